"""What every run of the proof searches with: rows, compiled units, states at the start."""
