"""Plan, prove, wire, test and record the alarm of your own home, on pages that show what you still have to fix.

The pages call this library: the model of a home, calculations, the control unit, checks, the proof, record and forms.
"""

__version__ = "0.5.0"
