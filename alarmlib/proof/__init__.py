"""The proof: every way in against every set, every habit, every single fault, over the one `step` of the control unit."""
