"""The first pages and what the whole record rests on."""
