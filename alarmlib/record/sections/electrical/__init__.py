"""Cables, loops, power, radio, sound and the day of fitting."""
