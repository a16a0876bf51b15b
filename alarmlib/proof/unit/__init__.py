"""The control unit proved alone, every input free."""
