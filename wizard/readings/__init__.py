"""What a person typed: lengths, bubbles, tools and other quantities, with exact values.

Knows no frame.
"""
