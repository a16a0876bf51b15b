"""Which devices share a zone, and which function a zone gets."""
