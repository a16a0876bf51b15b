"""Delays, their limits, and the season whose settings are in force."""
