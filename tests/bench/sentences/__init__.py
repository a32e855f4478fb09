"""A bench that judges sentences: whole surveys of frames whose truth is known, each claim scored.

    python -m tests.bench.sentences --surveys 300 --jobs 2 --seed 1

Frames, hands and looks share nothing with the program: they read content/layouts by themselves.
"""
