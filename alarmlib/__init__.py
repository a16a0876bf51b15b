"""The library behind the home alarm workbook: model, sums, control unit, checks, record and forms."""

__version__ = "0.4.1"
