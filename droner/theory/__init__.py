"""The facts of music, pure: pitch, scale, chord, key, meter, tuning, beats, instrument.

Nothing here knows a clock, a disk or a numbers library. Facts stand in `*_table.py`, one row a line.
"""
