"""The home as cells: the only geometry that the proof sees."""
