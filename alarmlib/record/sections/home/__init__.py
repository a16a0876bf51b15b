"""The home and its people."""
