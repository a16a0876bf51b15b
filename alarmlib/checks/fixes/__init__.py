"""What would put a cause right: the edits where they can be known, the field, and what a copy with them gains."""
