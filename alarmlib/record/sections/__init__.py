"""The sections of the record, one module each: ID, TITLE, NEEDS, LEVEL, build(context)."""
