"""One intruder and the control unit, alone or beside somebody who comes or leaves."""
