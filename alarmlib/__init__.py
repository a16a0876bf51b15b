"""Plan, prove, wire, test and record the alarm of your own home, on pages that show what you still have to fix.

The pages call this library: the model of a home, calculations, the control unit, checks, the proof, record and forms.
"""

import os
import sys

__version__ = "0.6.0"


# `python -m alarmlib` in a home's folder must run nothing that lies there, such as a scipy.py that somebody sent.
if sys.argv[:1] == ["-m"] and sys.path[:1] == [os.getcwd()] != [os.path.dirname(os.path.dirname(__file__))]:  # noqa: PTH109, PTH120
    del sys.path[0]
