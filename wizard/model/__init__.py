"""The frame as points in space, bent at will, and what every prompt would read on it.

Knows no checks and no words.
"""
