"""The command line: parse arguments, call one function, print."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from wizard import __version__
from wizard.library.fields import ContentError


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="crosstape", description="Survey an old car's separate frame with a tape, a string, a level and a bar."
    )
    parser.add_argument("--version", action="version", version=f"crosstape {__version__}")
    parser.add_argument("--folder", help="folder of surveys (else CROSSTAPE_FOLDER, else Crosstape in your home)")
    sub = parser.add_subparsers(dest="command", metavar="COMMAND")
    one = sub.add_parser("open", help="the wizard on one survey")
    one.add_argument("file", type=Path)
    ask = sub.add_parser("ask", help="the survey by plain prompts, line by line")
    ask.add_argument("file", type=Path, nargs="?")
    tell = sub.add_parser("tell", help="every finding and the verdict in words, or as JSON")
    tell.add_argument("file", type=Path)
    tell.add_argument("--json", action="store_true")
    tell.add_argument("--mentor", action="store_true", help="with every reading and the table of doubts")
    content = sub.add_parser("content", help="check authored content and name every fault")
    content.add_argument("dir", type=Path, nargs="?")
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; gives the exit status: 0 done, 1 refused, 2 wrong usage."""
    args = _parser().parse_args(argv)
    _utf8()
    try:
        status = {"ask": _ask, "tell": _tell, "content": _content}.get(args.command, _wizard)(args)
        sys.stdout.flush()
        return status
    except BrokenPipeError:
        # The reader of our output went away: nothing is lost, every answer was saved when it was taken. What is
        # still buffered goes nowhere, or the interpreter would complain of it on its way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except (ContentError, FileNotFoundError) as error:  # an installation that lost a part of itself
        return _refused(error)
    except KeyboardInterrupt:
        print("\nStopped; every answer taken is saved.", file=sys.stderr)
        return 130


def _utf8() -> None:
    """A terminal with no locale, or a pipe of other bytes, must not turn a name into a traceback."""
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]


def _refused(error: Exception) -> int:
    print(error, file=sys.stderr)
    return 1


def _wizard(args: argparse.Namespace) -> int:
    from wizard.screens.app import run_wizard
    from wizard.survey.toml import Unreadable

    try:
        return run_wizard(getattr(args, "file", None), args.folder)
    except Unreadable as error:
        return _refused(error)


def _ask(args: argparse.Namespace) -> int:
    from wizard.checks.foretell import foretelling
    from wizard.library import load_library
    from wizard.sitting.naming import survey_folder
    from wizard.sitting.plain import run
    from wizard.sitting.sitting import Sitting
    from wizard.survey.toml import Unreadable

    library = load_library()
    try:
        folder = args.file.parent if args.file else survey_folder(args.folder)
        sitting = Sitting(library, path=args.file, folder=folder, foretell=foretelling(library))
    except Unreadable as error:
        return _refused(error)
    person = sys.stdin.isatty()
    return run(sitting, sys.stdin, lambda text: print(text, flush=True), person=person)


def _tell(args: argparse.Namespace) -> int:
    from wizard.library import load_library
    from wizard.survey.file import load
    from wizard.survey.toml import Unreadable
    from wizard.telling.json_out import as_json
    from wizard.telling.tell import tell_text

    library = load_library()
    try:
        survey = load(args.file)
    except Unreadable as error:
        return _refused(error)
    if args.json:
        print(as_json(survey, library, datetime.now()))
    else:
        print(tell_text(survey, library, datetime.now(), mentor=args.mentor))
    return 0


def _content(args: argparse.Namespace) -> int:
    from wizard.library.load import read_content
    from wizard.library.paths import content_dir

    faults = read_content(args.dir or content_dir())[1]
    for fault in faults:
        print(fault)
    if not faults:
        print("The content is in order.")
    return 1 if faults else 0
