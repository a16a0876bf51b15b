"""Devices, where they are, what they cover; fire, carbon monoxide, water and frost."""
