"""content/steps/*.toml: the pages of the wizard."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from wizard.library.fields import Table, nearest
from wizard.library.kinds import AUTHORED, NOT_SURE, NOTE, NOTHING_LETTER, PLACE
from wizard.library.marks import OF_ANSWER, OF_STEP, QUESTIONS, READS, VOICES
from wizard.library.places import SIDES, PlaceId, PointId, PromptId, StepId, spoken
from wizard.library.quantities import fields_in
from wizard.library.set_up import KEYS
from wizard.library.shapes import (
    OF_A_QUESTION,
    SEEN,
    Choice,
    Gathered,
    Need,
    OnlyWords,
    PromptTemplate,
    Reworded,
    Second,
    Step,
    Together,
    Worded,
)
from wizard.library.templates import field_faults

EACH = ("", "box", "front-box", "place", "station", "level", "side")
PARTS = ("prepare", "look", "measure", "finish")
DRAWINGS = ("plan", "side", "end", "horns", "look", "supports", "set-up", "axle", "none")
TOOLS = ("", "tape", "ruler", "level", "bar", "string", "caliper", "gauge")
STATE = ("engine", "body", "panels", "supports", "stood", "tires", "fuel", "temperature")
"""What the state of a car holds (the fields of a [[state]] row)."""
ROW = 74
"""Characters of one line of the list of answers at 80 columns: what is asked and what was answered."""
STANDS = ("still", "rocks", "nowhere", "sound")
"""What an answer may say of how the car stands."""
SEEN_LONGEST = " (not reached)"
"""What stands behind a look."""
TITLE = 31
"""Characters of a title: the trail beside the page has room for no more."""
PAPER_LINE = 100
"""Characters of the worksheet's one line of how-to."""


def read_need(t: Table) -> Need:
    """A condition as authored."""
    key, any_ = t.text("key"), t.texts("any", needed=True)
    need = Need(key, any_, t.text("instead", ""), usual=t.flag("usual"))
    t.done()
    return need


def _choice(t: Table) -> Choice:
    choice = Choice(
        letter=t.text("letter"),
        token=t.text("token"),
        words=t.text("words"),
        named=t.text("named", ""),
        also=t.texts("also"),
        stop=t.flag("stop"),
        loose=t.flag("loose"),
        nothing=t.flag("nothing"),
        speaks=t.word("speaks", VOICES, ""),
        marks=t.words("marks", OF_ANSWER),
        says=t.text("says", ""),
        stands=t.word("stands", STANDS, ""),
        needs=tuple(read_need(n) for n in t.tables("needs")),
        instead=t.text("instead", ""),
    )
    if bool(choice.needs) != bool(choice.instead):
        t.fault("instead", "goes with needs", "say what to do for whoever may not answer so")
    if len(choice.letter) != 1 or not "a" <= choice.letter <= "z":
        t.fault("letter", f"'{choice.letter}' is not one small letter", "use one of a to z")
    t.done()
    return choice


def _together(t: Table) -> Together | None:
    """One letter for several questions; None where there is none."""
    for one in t.tables("together"):
        says = tuple((s.text("id"), s.text("letter")) for s in one.tables("says"))
        found = Together(
            one.text("letter"), one.text("words"), says, tuple(map(read_need, one.tables("needs")))
        )
        one.done()
        return found
    return None


def _only_words(t: Table) -> OnlyWords:
    row = OnlyWords(t.text("words"), t.text("why"))
    t.done()
    return row


LIST_LINE = 74
"""Characters of one line of a place's list."""


def _gathered(t: Table) -> Gathered:
    row = Gathered(
        PromptId(t.text("look")),
        t.text("letter"),
        t.text("name"),
        t.text("found"),
        t.flag("once"),
    )
    taken = (*SEEN, NOTHING_LETTER, NOT_SURE.letter)
    if len(row.letter) != 1 or not "a" <= row.letter <= "z":
        t.fault("letter", f"'{row.letter}' is not one small letter", "use one of a to z")
    elif row.letter in taken:
        wrong = f"'{row.letter}' says how well a place was seen, or that nothing was found"
        t.fault("letter", wrong, f"use another than {', '.join(taken)}")
    if len(row.name) + len(row.found) > LIST_LINE:
        t.fault("found", f"is too long beside '{row.name}'", f"both together: {LIST_LINE}")
    t.done()
    return row


def _gathers(t: Table) -> tuple[Gathered, ...]:
    """The looks of a place of a round: each once, and by a letter of its own."""
    found = tuple(_gathered(g) for g in t.tables("gather"))
    for key, said in (("letter", [g.letter for g in found]), ("look", [g.look for g in found])):
        if len({*map(str, said)}) != len(said):
            t.fault(f"gather.{key}", "stands there twice", f"give each look a {key} of its own")
    return found


THIRDS = ("front", "middle", "rear")
"""What the picture of a place lights of a side's rail; all of it where none is named."""
_HOW = ", ".join(f"{letter} {spoken(word)}" for letter, word in SEEN.items())
ASKED = PromptTemplate(
    kind=PLACE,
    last="seen",
    ask=f"How well seen ({_HOW}), then letters",
    short="how well seen",
)
"""What every place asks."""


def _lit(t: Table) -> tuple[str, ...]:
    """Side, and a third of it."""
    found = t.texts("lit")
    if found and (found[0] not in SIDES or len(found) > 2 or not {*THIRDS}.issuperset(found[1:])):
        said = 'lit = ["left", "front"], or lit = ["left"] for all of it'
        t.fault("lit", "is not a side and a third of it", f"write it like {said}")
    return found


def _letters(t: Table, prompt: PromptTemplate) -> None:
    letters = [c.letter for c in prompt.choices]
    if len(set(letters)) != len(letters):
        t.fault("choice", "two answers share a letter", "give each answer a letter of its own")
    said = Counter(w for c in prompt.choices for w in {c.letter, c.token, *c.also})
    for word in (w for c in prompt.choices for w in c.also if said[w] > 1):
        t.fault("choice.also", f"'{word}' says two things", "leave it to one answer")
    for fault in prompt.kind.faults(prompt):
        t.fault(*fault)
    if len(prompt.choices) < prompt.kind.least_choices:
        t.fault("choice", "has nothing to choose from", "add [[prompt.choice]] tables")


def _keep(t: Table, keep: str) -> None:
    known = [f"state.{f}" for f in STATE] + [f"tool.{k}" for k in TOOLS if k]
    known += [
        "survey.car",
        "survey.unit",
        "survey.layout",
        "tool.tape.start",
        *("book.caster", "book.camber", "book.toe"),
        "trip.distance",
        "trip.incidents",
        *KEYS,
    ]
    if keep and keep not in known:
        t.fault("keep", f"'{keep}' is not known", nearest(keep, known))


def _prompt(t: Table) -> PromptTemplate:
    prompt = PromptTemplate(
        kind=AUTHORED.get(t.word("kind", AUTHORED), NOTE),
        last=t.text("id", ""),
        each=t.word("each", EACH, ""),
        only=t.texts("only"),
        ask=t.text("ask"),
        short=t.text("short", ""),
        about=t.text("about", ""),
        start=PointId(t.text("start", "")),
        end=PointId(t.text("end", "")),
        over=PlaceId(t.text("over", "")),
        point=t.text("point", ""),
        sizes=t.numbers("sizes"),
        repeats=t.whole("repeats", 1),
        signs=t.texts("signs"),
        tool=t.word("tool", TOOLS, ""),
        keep=t.text("keep", ""),
        choices=tuple(_choice(c) for c in t.tables("choice")),
        together=_together(t),
        needs=tuple(read_need(n) for n in t.tables("needs")),
        optional=t.flag("optional"),
        move=t.whole("move", 1),
        alone=t.flag("move_alone"),
        asks=t.word("asks", QUESTIONS, ""),
        exposes=t.texts("exposes"),
        today=t.flag("today"),
    )
    _letters(t, prompt)
    signed = prompt.kind.offsets or prompt.kind.leans
    if not prompt.kind.guesses and signed != (len(prompt.signs) == 2):
        t.fault(
            "signs",
            "a gap or an angle needs a word for plus and one for minus, and nothing else has them",
            'signs = ["past", "short"]',
        )
    _repeats(t, prompt)
    _sizes(t, prompt)
    if not prompt.last and prompt.each in ("", "front-box"):
        t.fault("id", "is missing", "a prompt that stands alone needs an id")
    _told(t, prompt)
    _ends(t, prompt)
    _keep(t, prompt.keep)
    field_faults(t, prompt)
    t.done()
    return prompt


def _repeats(t: Table, prompt: PromptTemplate) -> None:
    """Only what is measured is read more than once."""
    if not 1 <= prompt.repeats <= 9:
        t.fault("repeats", f"{prompt.repeats} is too few or too many", "use 1 to 9")
    if prompt.repeats != 1 and not prompt.kind.measures:
        t.fault("repeats", f"a {prompt.kind.id} is answered once", "leave it out")


def _sizes(t: Table, prompt: PromptTemplate) -> None:
    """Two lengths or angles, the smaller first, and only of a length or an angle."""
    if prompt.sizes and not (prompt.kind.spans or prompt.kind.leans):
        t.fault("sizes", f"a {prompt.kind.id} has none", "leave it out")
    elif prompt.sizes and not (len(prompt.sizes) == 2 and prompt.sizes[0] < prompt.sizes[1]):
        t.fault(
            "sizes",
            "are not two sizes, the smaller first",
            "write them in mm or degrees, like [0, 40]",
        )


def _ends(t: Table, prompt: PromptTemplate) -> None:
    """A tape has two ends, and one across a box must name them."""
    if bool(prompt.start) != bool(prompt.end):
        t.fault(
            "end" if prompt.start else "start",
            "is missing",
            "name both points of the tape, or neither",
        )
    if prompt.kind.spans and prompt.each == "box" and not prompt.start:
        t.fault("start", "is missing", 'name both points of the tape, like start = "{front}-left"')


def _told(t: Table, prompt: PromptTemplate) -> None:
    """What is read with a tool has that tool's doubt."""
    if prompt.kind.measures and not prompt.tool:
        t.fault("tool", "is missing", f"say what it is read with: {', '.join(filter(None, TOOLS))}")


def _paper(t: Table) -> str:
    """The how-to of the worksheet: one line, so that a sheet stays short enough to carry."""
    line = t.text("paper", "")
    if len(line) > PAPER_LINE:
        t.fault(
            "paper", f"is {len(line)} characters and {PAPER_LINE} fit on one line", "say it shorter"
        )
    return line


def _again(t: Table) -> int | None:
    """Minutes to set up a second time, which no page can want more of than it took in all the first
    time.
    """
    if "again" not in t.data:
        return None
    again, first = t.whole("again", 0), t.data.get("minutes")
    if isinstance(first, int) and not 0 <= again <= first:
        t.fault(
            "again",
            f"{again} is not between 0 and minutes",
            "a second time never takes longer to set up",
        )
    return again


def _rows(t: Table, prompts: tuple[PromptTemplate, ...]) -> None:
    """The answers stand in one column: the longest of them, whole, beside the longest of what was
    asked.
    """
    chosen = [p for p in prompts if p.choices]
    asked = max(
        ((p.short or p.ask).replace("{side}", "right") for p in prompts if chosen),
        key=len,
        default="",
    )
    answers = [c.words + (SEEN_LONGEST if p.kind.looks else "") for p in chosen for c in p.choices]
    answer = max(answers, key=len, default="")
    if len(asked) + len(answer) > ROW:
        t.fault(
            "prompt",
            f"'{asked}' beside '{answer}' is over {ROW} characters",
            'give it a shorter name: short = "tape"',
        )


def _abouts(t: Table, prompts: tuple[PromptTemplate, ...]) -> None:
    """Paper says the letters of several boxes once: where a page has more than one set of them,
    each says what it is about.
    """
    of_many = [p for p in prompts if p.choices and p.each]
    if len({p.choices for p in of_many}) < 2:
        return
    for prompt in of_many:
        if not prompt.about and not prompt.kind.looks:
            t.fault(
                "prompt.about",
                f"is missing beside '{prompt.ask}'",
                'say what it asks of all alike: about = "In which third is that"',
            )


SEATS = ("side", "corner")
"""What may stand in braces in the words for where a thing is."""


def _seat(t: Table, step: Step) -> None:
    """What is told of a place says where that is; what stands in braces must be filled in."""
    told = any(c.stop or c.speaks for p in step.prompts for c in p.choices)
    if told and not step.at:
        t.fault("at", "is missing", 'say where it is, like at = "in the top of the {side} rail"')
    for field in fields_in(step.at):
        if field not in SEATS:
            t.fault("at", f"{{{field}}} is filled in by nobody", nearest(field, SEATS))


def _togethers(t: Table, prompts: tuple[PromptTemplate, ...]) -> None:
    """One letter says an answer of each question that it names, its own first, and is no other's."""
    letters = {p.last: {c.letter for c in p.choices} for p in prompts if not p.each}
    for prompt in prompts:
        if prompt.together is not None:
            _together_faults(t, prompt.last, prompt.together, letters)


def _together_faults(t: Table, own: str, one: Together, letters: dict[str, set[str]]) -> None:
    """letters: those of the answers of each question of the page."""
    if one.letter in letters.get(own, ()) or not "a" <= one.letter <= "z":
        t.fault("together.letter", f"'{one.letter}' is taken", "use one of a to z that is not")
    if len(one.words) > LIST_LINE:
        t.fault("together.words", "are too long for a line", f"say it in {LIST_LINE}")
    if [last for last, _ in one.says][:1] != [own]:
        t.fault("together.says", "does not begin here", "name this question, then the others")
    for last, letter in one.says:
        if letter not in letters.get(last, ()):
            wrong = f"'{last}' with '{letter}' is no answer of this page"
            t.fault("together.says", wrong, "name a question and the letter of its answer")


def _as_place(t: Table, step: Step) -> Step:
    """A place asks how well all that it gathers was seen, and nothing else."""
    if not step.gathers:
        return step
    if step.prompts:
        t.fault("gather", "stands beside a prompt", "a place asks what it gathers, no more")
    return step._replace(prompts=(ASKED,))


LINES = ("how", "spoils")
"""What a page says in lines."""
TEXTS = ("title", "at", "joint", "why", "good", "paper", "alone", "mentor", "instead", "source")
"""What it says in one text each."""


def _worded(t: Table) -> Worded:
    """What a page says otherwise where the frame has a trait; what is left out stays as it is."""
    trait = t.text("trait")
    said = _said_otherwise(t)
    asks, names = dict(_question(q) for q in t.tables("question")), _words_by(t, "names")
    if not (said or asks or names):
        t.fault("trait", "changes no words", f"say one of {', '.join((*LINES, *TEXTS))}")
    t.done()
    return Worded(trait, said, asks, names)


def _said_otherwise(t: Table) -> dict[str, object]:
    """The fields of the page that are given."""
    said: dict[str, object] = {key: t.texts(key) for key in LINES if key in t.data}
    for key in (key for key in TEXTS if key in t.data):
        said[key] = _paper(t) if key == "paper" else t.text(key)
    return said


def _words_by(t: Table, key: str) -> Mapping[str, str]:
    """Words by the letter or the token that they stand for."""
    given = t.mapping(key) if key in t.data else {}
    inner = Table(given, t.file, t.faults, f"{key}.")
    return {one: inner.text(one) for one in given}


def _question(t: Table) -> tuple[str, Reworded]:
    """Which question of the page, and what it says otherwise."""
    last = t.text("of", "")
    said = {key: t.text(key) for key in OF_A_QUESTION if key in t.data}
    answers = _words_by(t, "answers")
    if not said and not answers:
        t.fault("of", "changes no words", f"say one of {', '.join((*OF_A_QUESTION, 'answers'))}")
    t.done()
    return last, Reworded(said, answers)


def _second(t: Table) -> Second:
    """What it says a second time: `moves` by their numbers, empty for one that is left out."""
    if "second" not in t.data:
        return Second("", "", {})
    inner = Table(t.mapping("second"), t.file, t.faults, "second.")
    given = inner.mapping("moves")
    many = len(t.data.get("how", ()))
    for number in (n for n in given if not (n.isdecimal() and 1 <= int(n) <= many)):
        inner.fault("moves", f"{number} is no line of how", f"count them from 1 to {many}")
    moves = {int(n): str(words) for n, words in given.items() if n.isdecimal()}
    second = Second(inner.text("why", ""), inner.text("good", ""), moves)
    inner.done()
    return second


def _in_other_words(t: Table) -> tuple[Worded, ...]:
    return tuple(_worded(w) for w in t.tables("worded"))


def _worded_faults(t: Table, step: Step) -> None:
    """Each prompt names a move of `how` by its number, so there are as many in other words; a title
    fits where the page's own does, and a question is one of the page's.
    """
    for one in step.worded:
        _named_faults(t, step, one)
        moves = len(one.texts.get("how", step.how))
        if moves != len(step.how):
            wrong = f"has {moves} lines and the page's own has {len(step.how)}"
            t.fault("worded.how", wrong, "write as many: the prompts name them by number")


def _named_faults(t: Table, step: Step, one: Worded) -> None:
    _fits(t, "worded.title", str(one.texts.get("title", "")))
    _asked_faults(t, step, one)
    letters = {g.letter for g in step.gathers}
    for letter in one.names.keys() - letters:
        t.fault("worded.names", f"'{letter}' is no part of this place", nearest(letter, letters))
    for name in ("at", "joint"):
        wanted, said = getattr(step, name), str(one.texts.get(name, ""))
        if said and fields_in(wanted) != fields_in(said):
            t.fault(f"worded.{name}", "has other words in braces", f"write it like '{wanted}'")


def _asked_faults(t: Table, step: Step, one: Worded) -> None:
    """Questions that the page does not ask, and answers that they do not have."""
    asked = {p.last: {c.token for c in p.choices} for p in step.prompts}
    for last, own in one.asks.items():
        known = asked.get(last)
        if known is None:
            t.fault("worded.question.of", f"'{last}' asks nothing here", nearest(last, set(asked)))
            continue
        for token in own.answers.keys() - known:
            wrong = f"'{token}' answers nothing here"
            t.fault("worded.question.answers", wrong, nearest(token, known))


def _fits(t: Table, key: str, title: str) -> None:
    """A title is no longer than the list of pages is wide."""
    if len(title) > TITLE:
        wrong = f"is {len(title)} characters and {TITLE} fit in the list of pages"
        t.fault(key, wrong, "say it shorter")


def read_step(t: Table) -> Step:
    """One step out of its file; faults go to the table's list."""
    t.format()
    step = Step(
        id=StepId(t.text("id")),
        title=t.text("title"),
        part=t.word("part", PARTS),
        minutes=t.whole("minutes"),
        readings=t.whole("readings", 0),
        again=_again(t),
        why=t.text("why"),
        how=t.texts("how", needed=True),
        spoils=t.texts("spoils", needed=True),
        good=t.text("good"),
        paper=_paper(t),
        alone=t.text("alone", ""),
        mentor=t.text("mentor", ""),
        words=t.texts("words"),
        exposes=t.texts("exposes", needed=True),
        unexposed=t.text("unexposed", ""),
        only_words=tuple(_only_words(h) for h in t.tables("only_words")),
        drawing=t.word("drawing", DRAWINGS, "none"),
        check=t.text("check", ""),
        caveat=t.text("caveat", ""),
        instead=t.text("instead", ""),
        source=t.text("source"),
        stand_in=StepId(t.text("stand_in", "")),
        marks=t.words("marks", OF_STEP),
        reads=t.word("reads", READS, ""),
        at=t.text("at", ""),
        joint=t.text("joint", ""),
        across=t.text("across", ""),
        layouts=t.texts("layouts"),
        needs=tuple(read_need(n) for n in t.tables("needs")),
        called=t.text("called", ""),
        prompts=tuple(_prompt(p) for p in t.tables("prompt")),
        gathers=_gathers(t),
        lit=_lit(t),
        twin=StepId(t.text("twin", "")),
        worded=_in_other_words(t),
        second=_second(t),
    )
    _worded_faults(t, step)
    step = _as_place(t, step)
    _fits(t, "title", step.title)
    _rows(t, step.prompts)
    _abouts(t, step.prompts)
    _togethers(t, step.prompts)
    for p in step.prompts:
        if not 1 <= p.move <= len(step.how):
            t.fault(
                "move",
                f"{p.move} is not one of the {len(step.how)} lines of how",
                "count them from 1",
            )
    if bool(step.exposes) == bool(step.unexposed):
        wrong = "is said beside an exposure" if step.exposes else "is missing"
        t.fault(
            "unexposed",
            wrong,
            "only a page that exposes nobody to anything says why",
        )
    _seat(t, step)
    if not step.prompts:
        t.fault("prompt", "the page asks nothing", "add at least one [[prompt]]")
    t.done()
    return step
