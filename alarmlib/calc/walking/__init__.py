"""Walks through a home: floors, shortest ways, paces, the round of a test."""
