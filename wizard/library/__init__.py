"""Authored content: the only room that reads content/."""

from wizard.library.load import load_library

__all__ = ["load_library"]
