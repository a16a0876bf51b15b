"""Detectors: kind, place, what they cover."""
