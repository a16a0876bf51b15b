"""The floor plan: what is drawn, what cannot be right in it, what can be reached from outside."""
