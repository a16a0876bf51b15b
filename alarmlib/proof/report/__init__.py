"""What a proof says, on what it rests, how it fails step by step."""
