"""What is worked out from a home: kept, with what it read, until something of that moves."""

from alarmlib.facts.facts import Facts

__all__ = ["Facts"]
