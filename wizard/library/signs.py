"""content/signs.toml: signs, and what must be seen before a cause can be ruled out."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from wizard.library.fields import Fault, Table, nearest
from wizard.library.figures import MARKS
from wizard.library.marks import RAIL_SHIFT, SAG_UNLOADED
from wizard.library.places import PromptId, QuantityId, StepId, name_of_prompt, step_of
from wizard.library.shapes import Step
from wizard.library.shapes_signs import (
    CAUSES,
    CONDITIONS,
    KINDS,
    TELLS,
    THIRDS,
    TWINS,
    WEIGHTS,
    CauseWords,
    Sign,
    SignBook,
    Witness,
)

FILE = "signs.toml"
MEASURES = (str(RAIL_SHIFT), str(SAG_UNLOADED))


def read_signs(t: Table) -> SignBook:
    """The signs by id, the causes by id, and the third of the frame each step speaks of."""
    t.format()
    signs: dict[str, Sign] = {}
    causes: dict[str, CauseWords] = {}
    thirds = {StepId(str(k)): str(v) for k, v in t.mapping("thirds").items()}
    for step, third in thirds.items():
        if third not in THIRDS:
            t.fault(f"thirds.{step}", f"'{third}' is not known", nearest(third, THIRDS))
    for row in t.tables("cause"):
        cause = CauseWords(
            row.word("id", CAUSES),
            row.text("name"),
            tuple(_witness(w) for w in row.tables("witness")),
        )
        row.done()
        row.once(cause.id, causes)
        causes[cause.id] = cause
    for name in CAUSES:
        if name not in causes:
            t.fault("cause", f"'{name}' is missing", f'add [[cause]] with id = "{name}"')
    for row in t.tables("sign"):
        sign = _sign(row)
        row.done()
        row.once(sign.id, signs)
        signs[sign.id] = sign
    t.done()
    return SignBook(signs, causes, thirds)


def _witness(t: Table) -> Witness:
    quantity = t.word("quantity", MEASURES, "")
    witness = Witness(
        StepId(t.text("step")),
        t.word("kind", KINDS),
        t.text("settle"),
        QuantityId(quantity) if quantity else None,
    )
    t.done()
    return witness


def _weights(t: Table, key: str) -> dict[str, str]:
    found = {}
    for cause, weight in t.mapping(key).items():
        if cause not in CAUSES:
            t.fault(f"{key}.{cause}", "is not a cause", nearest(str(cause), CAUSES))
        elif weight not in WEIGHTS:
            t.fault(f"{key}.{cause}", f"'{weight}' is not a weight", nearest(str(weight), WEIGHTS))
        else:
            found[cause] = weight
    return found


def _sign(t: Table) -> Sign:
    sign = Sign(
        id=t.text("id"),
        words=t.text("words"),
        kind=t.word("kind", KINDS),
        leans=_weights(t, "leans"),
        against=_weights(t, "against"),
        also=t.text("also", ""),
        source=t.text("source"),
        mark=t.word("mark", MARKS),
        looks=tuple(map(StepId, t.texts("looks"))),
        tokens=t.texts("tokens"),
        twin=t.texts("twin") or TWINS,
        on=t.texts("on"),
        unless=t.texts("unless"),
        finding=t.word("finding", CONDITIONS, ""),
        answer=PromptId(t.text("answer", "")),
        tells=t.word("tells", TELLS, ""),
        once=t.flag("once"),
        bend=t.flag("bend"),
    )
    _origin(t, sign)
    for twin in sign.twin:
        if twin not in TWINS:
            t.fault("twin", f"'{twin}' is not known", nearest(twin, TWINS))
    return sign


def _origin(t: Table, sign: Sign) -> None:
    """Every sign comes from exactly one place, and leans somewhere or tells of the time."""
    if sum(map(bool, (sign.looks, sign.finding, sign.answer))) != 1:
        t.fault("from", "must come from one of looks, finding, answer", "keep just one of them")
    if bool(sign.tokens) != bool(sign.looks or sign.answer):
        t.fault(
            "tokens", "go with looks or an answer, and with nothing else", "add or take away tokens"
        )
    if not (sign.leans or sign.against or sign.tells):
        t.fault("leans", "is empty", 'say to what it leans, such as { age = "medium" }')
    if sign.leans and not sign.also:
        t.fault("also", "is missing", "say what else it could be")


def sign_faults(
    book: SignBook, steps: Mapping[StepId, Step], traits: Collection[str]
) -> Iterator[Fault]:
    """Signs that name a step, a prompt, an answer, a trait or a sign that the content lacks."""
    for sign in book.signs.values():
        for step in sign.looks:
            yield from _known(f"sign[{sign.id}].looks", step, steps)
            if step in steps:
                yield from _tokens(sign, steps[step])
        yield from _answer_faults(sign, steps)
        yield from _unknown(f"sign[{sign.id}].on", sign.on, traits, "is not a kind of frame")
        yield from _unknown(f"sign[{sign.id}].unless", sign.unless, book.signs, "is not a sign")
    for cause in book.causes.values():
        for witness in cause.witnesses:
            yield from _known(f"cause[{cause.id}].witness", witness.step, steps)
    for step in book.thirds:
        yield from _known("thirds", step, steps)


def _answer_faults(sign: Sign, steps: Mapping[StepId, Step]) -> Iterator[Fault]:
    """A sign of an answer names one prompt, and only answers of it."""
    if not sign.answer:
        return
    step, last = step_of(sign.answer), name_of_prompt(sign.answer)
    prompts = steps[step].prompts if step in steps else ()
    prompt = next((p for p in prompts if p.last == last), None)
    if prompt is None:
        wrong = f"'{sign.answer}' is not a prompt"
        yield Fault(FILE, f"sign[{sign.id}].answer", wrong, "write step/prompt")
        return
    known = {c.token for c in prompt.choices}
    for token in sign.tokens:
        if token not in known:
            wrong = f"'{token}' is not an answer"
            yield Fault(FILE, f"sign[{sign.id}].tokens", wrong, nearest(token, known))


def _unknown(
    key: str, names: Collection[str], known: Collection[str], wrong: str
) -> Iterator[Fault]:
    for name in names:
        if name not in known:
            yield Fault(FILE, key, f"'{name}': {wrong}", nearest(name, known))


def _known(key: str, step: StepId, steps: Mapping[StepId, Step]) -> Iterator[Fault]:
    if step not in steps:
        yield Fault(FILE, key, f"'{step}' is not a page", nearest(step, steps))


def _tokens(sign: Sign, step: Step) -> Iterator[Fault]:
    """A token need not be an answer of every step named, but each step must know at least one of
    them.
    """
    known = {c.token for p in step.prompts if p.kind.looks for c in p.choices}
    if not known & set(sign.tokens):
        yield Fault(
            FILE,
            f"sign[{sign.id}].tokens",
            f"none of them is an answer of '{step.id}'",
            "take the step out",
        )
