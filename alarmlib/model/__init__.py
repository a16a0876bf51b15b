"""What a home is: frozen parts that refer to each other by id."""

from alarmlib.model.home import Home

__all__ = ["Home"]
