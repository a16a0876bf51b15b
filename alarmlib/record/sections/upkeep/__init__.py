"""Tests, their plan and their log."""
