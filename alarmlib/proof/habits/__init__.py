"""Every habit of the household, alone and in pairs."""
