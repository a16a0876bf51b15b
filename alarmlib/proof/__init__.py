"""The proof: every way in against every set, every habit and every single fault, over the one `step` of the unit."""
