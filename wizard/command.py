"""The command line: parse arguments, call one function, print."""

from __future__ import annotations

import contextlib
import gc
import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING

from wizard import __version__
from wizard.library.fields import ContentError
from wizard.readings.plain import clean_line
from wizard.sitting.naming import NotNamed, survey_file

if TYPE_CHECKING:
    import argparse

    from wizard.library.shapes import Library
    from wizard.survey.record import Survey


class NotAsked(ValueError):
    """What was asked for does not go together; the message is one sentence."""


def _open_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file")


def _ask_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", nargs="?")
    parser.add_argument(
        "--new", action="store_true", help="begin a new survey, in FILE if you name one"
    )
    parser.add_argument(
        "--recheck", action="store_true", help="measure the frame of FILE again in a new survey"
    )


def _tell_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file")
    parser.add_argument("--json", action="store_true")
    parser.add_argument(
        "--all", action="store_true", help="add why, what it comes from, what to ask, every figure"
    )
    parser.add_argument(
        "--mentor", action="store_true", help="add every reading and where each doubt comes from"
    )
    _sister_usage(parser)


def _sister_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--sister",
        metavar="FILE",
        help="the survey of another frame of the same make, to compare each figure with",
    )


def _compare_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("old")
    parser.add_argument("new", nargs="+")
    parser.add_argument("--json", action="store_true")


def _sheet_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file",
        nargs="?",
        help="a survey; while it goes on, the sheet has only what it still asks for",
    )
    parser.add_argument(
        "--layout",
        default="",
        metavar="ID",
        help="kind of frame (straight-ladder if you name none)",
    )
    parser.add_argument(
        "--state",
        action="append",
        default=[],
        metavar="FIELD=ANSWER",
        help="how the car stands, like body=bolted; you can say several",
    )
    parser.add_argument(
        "--short", action="store_true", help="the short survey, if the engine comes out tomorrow"
    )
    parser.add_argument(
        "--again",
        action="store_true",
        help="only what is worth measuring again of that survey, without its figures",
    )
    parser.add_argument(
        "--also",
        action="append",
        default=[],
        metavar="ID",
        help="with the pages that are asked only when called for, as /also lists them",
    )
    parser.add_argument(
        "--drawing",
        choices=("A3", "A4", "letter"),
        help="the drawing alone, large, with room to write: one sheet A3, or two A4 or Letter",
    )
    parser.add_argument(
        "-o",
        "--output",
        type=Path,
        metavar="FILE",
        help="the .html or .txt file to write; without it the text is printed",
    )


def _report_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file")
    parser.add_argument(
        "--brief",
        action="store_true",
        help="the brief for whoever straightens the frame, with room for his figures",
    )
    parser.add_argument(
        "--photos",
        type=Path,
        metavar="FOLDER",
        help="a folder with the photos of the record, JPEG or PNG, found by number or name",
    )
    parser.add_argument(
        "-o",
        "--output",
        type=Path,
        metavar="FILE",
        help="the .html, .md, .txt or .csv file to write; without it the text is printed",
    )


def _model_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", nargs="?", help="a survey, to take its sizes")
    parser.add_argument(
        "--layout", default="", metavar="ID", help="kind of frame, if you name no survey"
    )


def _content_usage(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("dir", type=Path, nargs="?")


USAGE: dict[str, tuple[Callable[[argparse.ArgumentParser], None], str]] = {
    "open": (_open_usage, "open one survey in the wizard"),
    "ask": (_ask_usage, "answer the same questions line by line, without the full screen"),
    "tell": (_tell_usage, "print the answer in words; everything behind it with --all, or as JSON"),
    "compare": (_compare_usage, "print what has changed between surveys and what has not"),
    "sheet": (_sheet_usage, "write a blank worksheet to print for the garage"),
    "report": (_report_usage, "write the report to keep with the car, or the brief for a shop"),
    "model": (_model_usage, "bend a model frame line by line and see which check finds it"),
    "content": (_content_usage, "check the content files and name every fault"),
}
"""What each command takes and what it is for, in the order of the help page."""


PLAIN = {"tell": {"json": False, "all": False, "mentor": False, "sister": None}}
"""What a command is asked where nothing but a file stands behind it."""


def _asked(argv: Sequence[str]) -> SimpleNamespace:
    """What was typed, taken apart. `tell FILE`, what is typed most, needs no parser for that: one
    takes a third of the time in which the answer is told.
    """
    if len(argv) == 2 and argv[0] in PLAIN and not argv[1].startswith("-"):
        return SimpleNamespace(folder=None, command=argv[0], file=argv[1], **PLAIN[argv[0]])
    return _parser(argv[0] if argv else "").parse_args(argv, SimpleNamespace())


def _parser(first: str) -> argparse.ArgumentParser:
    """first: the first word typed; where it is a command no other needs a parser, and each takes
    its time to build.
    """
    import argparse

    parser = argparse.ArgumentParser(
        prog="crosstape",
        description="Survey an old car's separate frame with a tape, a string, a level and a bar.",
    )
    parser.add_argument("--version", action="version", version=f"crosstape {__version__}")
    parser.add_argument(
        "--folder",
        help="where your surveys are (else in CROSSTAPE_FOLDER, else in Crosstape in your home)",
    )
    # Without `prog` argparse would lay out a usage line here, and load what measures a terminal for
    # it.
    sub = parser.add_subparsers(dest="command", metavar="COMMAND", prog="crosstape")
    for name in [first] if first in USAGE else USAGE:
        usage, words = USAGE[name]
        usage(sub.add_parser(name, help=words))
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; gives the exit status: 0 done, 1 refused, 2 wrong usage."""
    own = argv is None  # a process of our own, that ends with the command
    argv = sys.argv[1:] if argv is None else argv
    args = _asked(argv)
    _stand_in()
    _utf8()
    # No matrix here has more than a few dozen rows: the threads that numpy would start for large
    # ones only cost.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        return _run(args, own)
    except BrokenPipeError:
        # The reader of our output went away: nothing is lost, every answer was saved when it was
        # taken. What is
        # still buffered goes nowhere, or the interpreter would complain of it on its way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except (NotNamed, NotAsked) as error:
        return _refused(error)
    except (ContentError, FileNotFoundError) as error:  # an installation that lost a part of itself
        return _refused(error)
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130
    except Exception as error:
        return _went_wrong(error, args)


def _run(args: SimpleNamespace, own: bool) -> int:
    if own and args.command in SHORT:
        gc.disable()
    _find_files(args)
    status = COMMANDS.get(args.command, _wizard)(args)
    sys.stdout.flush()
    if own:
        gc.freeze()  # or everything would be looked through for rings once more on the way out
    return status


def _went_wrong(error: Exception, args: SimpleNamespace) -> int:
    """A fault that nobody foresaw: one sentence, and what happened in a file beside the surveys."""
    from wizard.sitting.mishap import mishap

    if isinstance(error, OSError):
        print(_cannot(error), file=sys.stderr)
        return 1
    print(mishap(error, Path(args.folder) if args.folder else None), file=sys.stderr)
    return 1


def _find_files(args: SimpleNamespace) -> None:
    """Each survey named on the command line as a path: a bare name is one of the folder of surveys.

    Raises NotNamed.
    """
    for name in ("file", "old", "sister"):
        if getattr(args, name, None) is not None:
            setattr(args, name, survey_file(getattr(args, name), args.folder))
    if isinstance(getattr(args, "new", None), list):
        args.new = [survey_file(name, args.folder) for name in args.new]


def _stand_in() -> None:
    """A stream that was closed before we began is empty or leads nowhere: its number must not
    become a file's.
    """
    if sys.stdin is None:
        sys.stdin = open(os.devnull)  # noqa: SIM115
    if sys.stdout is None:
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w")  # noqa: SIM115


def _cannot(error: OSError) -> str:
    """What the system would not do, in one sentence; without a file's name it was the stream of our
    own words.
    """
    said = error.strerror or type(error).__name__
    if error.filename:
        return f"{clean_line(os.fsdecode(error.filename), 200)} cannot be used ({said})."
    with contextlib.suppress(OSError, ValueError):  # what is left of it goes nowhere
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return f"The text could not be written out ({said}); your answers are kept."


def _utf8() -> None:
    """A terminal with no locale, or a pipe of other bytes, must not turn a name into a traceback."""
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]


def _refused(error: Exception) -> int:
    print(error, file=sys.stderr)
    return 1


def _wizard(args: SimpleNamespace) -> int:
    from wizard.screens.app import run_wizard
    from wizard.survey.toml import Unreadable

    try:
        return run_wizard(getattr(args, "file", None), args.folder)
    except Unreadable as error:
        return _refused(error)


def _ask(args: SimpleNamespace) -> int:
    from wizard.library import load_library
    from wizard.sitting.ending import ending
    from wizard.sitting.foretold import foretell_with
    from wizard.sitting.naming import survey_folder
    from wizard.sitting.plain import run
    from wizard.sitting.sitting import Sitting
    from wizard.survey.file import NotSaved
    from wizard.survey.toml import Unreadable

    library = load_library()
    if wrong := _wrongly_asked(args):
        raise NotAsked(wrong)
    try:
        if args.recheck:
            from wizard.sitting.recheck import start

            args.file = start(
                args.file, library, datetime.now(), Path(args.folder) if args.folder else None
            )
        folder = args.file.parent if args.file else survey_folder(args.folder)
        sitting = Sitting(library, path=args.file, folder=folder, foretell=foretell_with(library))
    except (Unreadable, NotSaved) as error:
        return _refused(error)
    try:
        return run(
            sitting, sys.stdin, lambda text: print(text, flush=True), person=sys.stdin.isatty()
        )
    except KeyboardInterrupt:
        print(f"\nStopped. {ending(sitting).says}", file=sys.stderr)
        return 130


def _wrongly_asked(args: SimpleNamespace) -> str:
    """What is wrong with the file that `ask` was given, in one sentence; empty where nothing is."""
    if args.file is None:
        return (
            "Type which survey to measure again, like: crosstape ask FILE --recheck."
            if args.recheck
            else ""
        )
    name, there = clean_line(str(args.file), 200), os.path.lexists(args.file)
    if args.new and (there or args.recheck):
        return f"There is already a survey {name}: leave out --new to go on with it."
    if there or args.new or args.recheck:
        return ""
    return f"There is no survey {name}; to begin one there, type: crosstape ask --new {name}"


def _tell(args: SimpleNamespace) -> int:
    from wizard.library import load_library

    survey = _survey(args.file)
    library = load_library(survey.layout)
    earlier = _earlier(survey, args.file)
    survey = _beside(survey, args.sister, library)
    if args.json:
        from wizard.telling.json_out import as_json

        print(as_json(survey, library, datetime.now(), earlier))
    else:
        from wizard.telling.tell import tell_text

        asked = {"mentor": args.mentor, "whole": args.all}
        print(tell_text(survey, library, datetime.now(), earlier=earlier, **asked))
    return 0


def _beside(survey: Survey, sister: Path | None, library: Library) -> Survey:
    """The survey with the sister frame that was named, if one was. Raises NotAsked."""
    if sister is None:
        return survey
    from wizard.readings.refused import Refused
    from wizard.sitting.comparing import with_sister_of

    try:
        return with_sister_of(survey, sister, library, datetime.now())
    except Refused as refused:
        raise NotAsked(str(refused)) from refused


def _earlier(survey: Survey, file: Path) -> Survey | None:
    """The survey that it follows, from its own folder; None where there is none at hand."""
    if not survey.follows:
        return None
    from wizard.sitting.chain import earlier_of

    return earlier_of(survey, file.parent)


def _compare(args: SimpleNamespace) -> int:
    from wizard.library import load_library
    from wizard.sitting.comparing import compare_files

    found = compare_files([args.old, *args.new], load_library(), datetime.now(), as_json=args.json)
    if found.text:
        print(found.text)
    for fault in found.faults:
        print(fault, file=sys.stderr)
    return 1 if found.faults else 0


def _model(args: SimpleNamespace) -> int:
    from wizard.library import load_library
    from wizard.sitting.model_desk import ModelDesk
    from wizard.sitting.plain import run_model

    library = load_library()
    survey = _survey(args.file) if args.file else None
    if survey is None and args.layout:
        survey = replace(_blank(args, args.layout, library), unit="mm")
    desk = ModelDesk(library, survey)
    return run_model(
        desk, sys.stdin, lambda text: print(text, flush=True), person=sys.stdin.isatty()
    )


def _content(args: SimpleNamespace) -> int:
    from wizard.checks.run import check_faults
    from wizard.library.load import read_content
    from wizard.library.paths import content_dir
    from wizard.telling.sentences import telling_faults

    if args.dir and args.dir.suffix == ".toml" and args.dir.is_file():
        return _layout_file(args.dir)
    library, faults = read_content(args.dir or content_dir())
    if not faults:
        faults = [*check_faults(library), *telling_faults(library)]
    for fault in faults:
        print(fault)
    if not faults:
        print("The content is in order.")
    return 1 if faults else 0


def _layout_file(path: Path) -> int:
    """Check one layout file of an owner's own against the program's content."""
    from wizard.library import load_library
    from wizard.sitting.papers import layout_checked

    good, said = layout_checked(path, load_library())
    print(said)
    return 0 if good else 1


def _sheet(args: SimpleNamespace) -> int:
    from wizard.library import load_library
    from wizard.survey.file import NotSaved
    from wizard.telling.papers import NotWritten, form_as, write_form
    from wizard.telling.sheet import UnknownState, sheet_of, state_of
    from wizard.telling.sheet_form import drawing_of, form_of

    library = load_library()
    survey = _asked_of(args, library)
    known = state_of(survey, library) if args.file and not args.again else {}
    chosen = {field: token for field, _, token in (said.partition("=") for said in args.state)}
    try:
        sheet = sheet_of(
            library,
            survey.layout,
            {**known, **chosen},
            short=args.short,
            survey=survey,
            again=args.again,
            also=args.also,
        )
        form = drawing_of(sheet, args.drawing) if args.drawing else form_of(sheet)
        if args.output:
            write_form(form, args.output)
        else:
            print(form_as(form), end="")
    except (UnknownState, NotWritten, NotSaved) as error:
        return _refused(error)
    return 0


def _asked_of(args: SimpleNamespace, library: Library) -> Survey:
    """The survey that was named, else an empty one of the kind of frame that was. Raises
    NotAsked.
    """
    survey = _survey(args.file) if args.file else None
    if args.again and survey is None:
        raise NotAsked(
            "Name the survey to measure again, like: crosstape sheet bramble.toml --again"
        )
    if survey is None:
        return _blank(args, args.layout or "straight-ladder", library)
    if args.layout and args.layout != survey.layout:
        kind = clean_line(survey.layout, 60)
        raise NotAsked(f"That survey is of another kind of frame ({kind}): leave out --layout.")
    return _blank(args, survey.layout, library, survey)


def _blank(
    args: SimpleNamespace, layout: str, library: Library, survey: Survey | None = None
) -> Survey:
    """The survey, or for none an empty one of a kind of frame that there is, here or among the
    owner's own. Raises NotAsked where nobody knows the kind.
    """
    from wizard.sitting.papers import survey_of_kind

    found = survey_of_kind(layout, library, args.folder, survey)
    if isinstance(found, str):
        raise NotAsked(found)
    return found


def _survey(path: Path) -> Survey:
    """The one in a file. Raises NotAsked where it cannot be read."""
    from wizard.survey.file import load
    from wizard.survey.toml import Unreadable

    try:
        return load(path)
    except Unreadable as error:
        raise NotAsked(str(error)) from error


def _report(args: SimpleNamespace) -> int:
    if args.brief and args.photos:
        raise NotAsked("A brief holds no photos: leave out --photos, or leave out --brief.")
    if args.brief:
        return _brief(args)
    from wizard.library import load_library
    from wizard.sitting.papers import earlier_for
    from wizard.survey.file import NotSaved
    from wizard.survey.toml import Unreadable
    from wizard.telling.papers import NotWritten, report_as, source_of, write_report
    from wizard.telling.photos import NO_PHOTOS, NoFolder, found_in

    library, survey = load_library(), _survey(args.file)
    try:
        earlier = earlier_for(replace(survey, id=survey.id or args.file.stem), args.file.parent)
        photos = found_in(args.photos, survey, library) if args.photos else NO_PHOTOS
        now = datetime.now()
        if args.output:
            write_report(args.file, args.output, library, now, earlier, photos)
        else:
            said = report_as(survey, library, now, source_of(args.file), ".txt", earlier, photos)
            print(said, end="")
    except (Unreadable, NotWritten, NotSaved, NoFolder) as error:
        return _refused(error)
    for line in (*photos.left_out, *photos.missing):
        print(line, file=sys.stderr)
    return 0


def _brief(args: SimpleNamespace) -> int:
    """What whoever straightens the frame is asked, as a paper to fill in."""
    from wizard.library import load_library
    from wizard.survey.file import NotSaved
    from wizard.survey.toml import Unreadable
    from wizard.telling.papers import NotWritten, form_as, source_of, write_form
    from wizard.telling.shop_brief import shop_brief

    survey = _survey(args.file)
    library, earlier = load_library(survey.layout), _earlier(survey, args.file)
    try:
        checksum = source_of(args.file).checksum
        form = shop_brief(survey, library, datetime.now(), earlier, checksum)
        if args.output:
            write_form(form, args.output)
        else:
            print(form_as(form), end="")
    except (Unreadable, NotWritten, NotSaved) as error:
        return _refused(error)
    return 0


COMMANDS: dict[str, Callable[[SimpleNamespace], int]] = {
    "ask": _ask,
    "tell": _tell,
    "compare": _compare,
    "sheet": _sheet,
    "report": _report,
    "model": _model,
    "content": _content,
}
"""Every command but the wizard itself."""
SHORT = ("tell", "compare", "sheet", "report", "content")
"""Commands that give one answer: what they make lives to their end, and looking through it for
rings only costs (a quarter of a comparison of a thousand surveys).
"""
