"""Fire, carbon monoxide, frost and water."""
