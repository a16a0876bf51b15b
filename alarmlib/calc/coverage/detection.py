"""How far a person may walk inside a motion detector's area before it must have tripped.

Reference: UL 1641 15.3.1, four steps of 24 in, one a second (`ul1641_steps`).
"""

STEP_M = 0.61
STEPS_M = 4 * STEP_M  # 2.44 m
