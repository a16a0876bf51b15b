"""Changes that close what a proof found open, the cheapest first."""
