"""What detectors see and feel, from walls, doors and furniture."""
