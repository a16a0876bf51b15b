"""The record: what a home's alarm is, why, what is open; typed blocks, then one HTML file."""
