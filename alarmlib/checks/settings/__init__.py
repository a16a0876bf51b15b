"""What is entered in the control unit: zones, times, messages, sounders; and its proof."""
