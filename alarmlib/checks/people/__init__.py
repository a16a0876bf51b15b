"""Who lives there and what they do."""
