"""Which detectors fit, and the fewest or cheapest set that covers what must be covered."""
