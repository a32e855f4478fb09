"""Files of content that are as they were are not read anew in each test."""

from tests.library.unchanged import _unchanged as _unchanged
