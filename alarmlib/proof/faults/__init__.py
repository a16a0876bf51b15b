"""Faults as a constant part of the state, and what each of them opens."""
