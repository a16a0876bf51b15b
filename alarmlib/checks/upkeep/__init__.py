"""Tests and what follows them."""
