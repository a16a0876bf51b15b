"""The survey: ways in, plan, what came with the home, what is not known yet."""
