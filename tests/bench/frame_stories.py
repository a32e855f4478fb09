"""The three invented cars behind the sample surveys."""

from tests.bench.frame_bramble import BRAMBLE
from tests.bench.frame_marigold import MARIGOLD
from tests.bench.frame_old_post import OLD_POST

__all__ = ["BRAMBLE", "MARIGOLD", "OLD_POST", "STORIES"]

STORIES = (BRAMBLE, MARIGOLD, OLD_POST)
