"""Loops, cable, batteries, radio: the electrical side of an alarm."""
