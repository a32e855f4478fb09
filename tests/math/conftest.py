"""A fixture that runs one formula with our numbers and with the `uncertainties` package and
compares them.
"""

from collections.abc import Callable
from typing import Any

import pytest
from uncertainties import ufloat

from wizard.math.uncertain import Part, Uncertain

Inputs = list[tuple[float, float]]
"""Value and standard uncertainty of each input."""


def ours(inputs: Inputs, shared: list[float]) -> list[Uncertain]:
    return [
        Uncertain(value, (Part(f"own-{i}", u), Part("common", size, shared=True)))
        for i, ((value, u), size) in enumerate(zip(inputs, shared, strict=True))
    ]


def theirs(inputs: Inputs, shared: list[float]) -> list[Any]:
    cause = ufloat(0.0, 1.0)
    return [
        ufloat(value, u) + size * cause for (value, u), size in zip(inputs, shared, strict=True)
    ]


def compare(
    formula: Callable[..., Uncertain], reference: Callable[..., Any], inputs: Inputs
) -> None:
    """Value and doubt within 1e-6, first with independent inputs, then with a part common to all as
    well.
    """
    for step in (0.0, 0.2):
        shared = [step * (1 + i % 3) for i in range(len(inputs))]
        found, expected = formula(*ours(inputs, shared)), reference(*theirs(inputs, shared))
        assert found.value == pytest.approx(expected.nominal_value, rel=1e-6, abs=1e-9)
        assert found.u == pytest.approx(expected.std_dev, rel=1e-6)
        assert found.u > 0


@pytest.fixture
def agrees() -> Callable[..., None]:
    return compare
