"""A proof in pieces: each worked out again only where something that it read has moved."""
