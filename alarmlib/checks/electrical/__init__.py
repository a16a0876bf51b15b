"""Loops, cable, batteries, radio, the day of fitting."""
