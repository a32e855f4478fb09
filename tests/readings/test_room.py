"""The room starts alone: no other room, no numpy, no textual, and pint only when a unit needs it."""

import pkgutil
import subprocess
import sys

import pytest

import wizard.readings

ALL = [
    f"wizard.readings.{module.name}" for module in pkgutil.iter_modules(wizard.readings.__path__)
]
READ = "from wizard.readings.figures import read_quantity; read_quantity"


def modules_after(code: str) -> set[str]:
    """What a fresh process has imported once it has run `code`."""
    script = f"{code}\nimport sys; print('\\n'.join(sys.modules))"
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    return set(run.stdout.split())


def test_importing_the_whole_room_brings_in_nothing_heavy_and_no_other_room() -> None:
    found = modules_after(f"import {', '.join(ALL)}")
    assert set(ALL) <= found
    assert not found & {"pint", "numpy", "textual", "scipy"}
    rooms = {name.split(".")[1] for name in found if name.startswith("wizard.")}
    assert rooms == {"readings"}


@pytest.mark.parametrize(
    "call", ["('30 N', 'force')", "('0.5 g/m', 'line_mass')", "('18 °C', 'temperature')"]
)
def test_a_quantity_in_its_own_unit_needs_no_pint(call: str) -> None:
    assert "pint" not in modules_after(READ + call)


def test_a_quantity_in_another_unit_does() -> None:
    assert "pint" in modules_after(READ + "('12 lbf', 'force')")
