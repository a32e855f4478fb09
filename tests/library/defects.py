"""One defect each: which file, what stood there, what stands there now, and the fault that must
name it.
"""

LADDER, DIAGONALS, TOPS = (
    "layouts/straight-ladder.toml",
    "steps/long-diagonals.toml",
    "steps/rail-tops.toml",
)
BAR, COURSE, LIMITS = "steps/front-box-bar.toml", "course.toml", "limits.toml"
NOSE = "layouts/a-frame.toml"
CAUTIONS, SUPPORTS = "cautions.toml", "steps/set-supports.toml"

EDITS: dict[str, tuple[str, str, str, str]] = {
    # defect: (file, what stood there, what stands there now, the fault)
    "misspelt-key": (
        DIAGONALS,
        "why =",
        "whi =",
        "long-diagonals.toml: whi: is not a key that is read here; did you",
    ),
    "across-no-crossmember": (
        "steps/rear-crossmember.toml",
        'across = "rear"',
        'across = "reer"',
        "rear-crossmember.toml: across: 'reer' is not known; did you mean 'rear'?",
    ),
    "unknown-drawing": (
        "steps/wheelbase.toml",
        'drawing = "plan"',
        'drawing = "plam"',
        "wheelbase.toml: drawing: 'plam' is not known; did you mean 'plan'?",
    ),
    "letters-about-nothing": (
        TOPS,
        'about = "Which third of the top is the worst"\n',
        "",
        "rail-tops.toml: prompt.about: is missing beside 'Which third of the",
    ),
    "missing-key": (
        DIAGONALS,
        "minutes = 10\n",
        "",
        "long-diagonals.toml: minutes: is missing; add minutes =",
    ),
    "empty-text": (
        DIAGONALS,
        'title = "The long diagonals"',
        'title = " "',
        "title: is empty; write a sentence",
    ),
    "wrong-type": (
        DIAGONALS,
        "minutes = 10",
        'minutes = "10"',
        "minutes: is str; write it as a whole number",
    ),
    "flag-for-number": (
        DIAGONALS,
        "minutes = 10",
        "minutes = true",
        "minutes: is bool; write it as a whole number",
    ),
    "again-longer": (
        DIAGONALS,
        "again = 1\n",
        "again = 11\n",
        "again: 11 is not between 0 and minutes; a second",
    ),
    "again-below-zero": (
        DIAGONALS,
        "again = 1\n",
        "again = -1\n",
        "again: -1 is not between 0 and minutes; a second",
    ),
    "long-name-beside-its-answer": (
        TOPS,
        'short = "{side} rail"',
        'short = "{side} rail, its top face from front to rear"',
        (
            "rail-tops.toml: prompt: 'right rail, its top face from front to rear' beside 'light"
            " pits, a pin ticks over"
        ),
    ),
    "field-in-short": (
        TOPS,
        'short = "{side} rail"',
        'short = "{sied} rail"',
        "prompt[1].short: '{sied}' is no field here; did you mean 'side'?",
    ),
    "title-too-long-for-the-trail": (
        DIAGONALS,
        'title = "The long diagonals"',
        'title = "The long diagonals, from corner to corner"',
        "title: is 41 characters and 31 fit in the trail; say it shorter",
    ),
    "move-that-is-not-there": (
        "steps/level.toml",
        "move = 3",
        "move = 9",
        "level.toml: move: 9 is none of the 8 lines of how; count them from 1",
    ),
    "text-in-list": (
        DIAGONALS,
        'words = ["diamond"',
        "words = [3",
        "words: holds something that is not text; make",
    ),
    "unknown-part": (
        DIAGONALS,
        'part = "measure"',
        'part = "mesure"',
        "part: 'mesure' is not known; did you mean 'me",
    ),
    "unknown-exposure": (
        TOPS,
        '"wire-wheel"',
        '"wire-weel"',
        "rail-tops.toml: exposes: 'wire-weel' is not known; did you mean 'wire-wheel'?",
    ),
    "unknown-exposure-of-a-prompt": (
        SUPPORTS,
        'exposes = ["old-paint"]',
        'exposes = ["old-pain"]',
        "set-supports.toml: prompt.exposes: 'old-pain' is not known; did you mean 'old-paint'?",
    ),
    "exposes-missing": (
        DIAGONALS,
        'exposes = ["under", "beside-lifted", "sharp-points"]\n',
        "",
        "long-diagonals.toml: exposes: is missing; add exposes =",
    ),
    "exposes-nothing-and-no-reason": (
        DIAGONALS,
        'exposes = ["under", "beside-lifted", "sharp-points"]',
        "exposes = []",
        (
            "long-diagonals.toml: unexposed: is missing; a page that exposes nobody to anything"
            " says why"
        ),
    ),
    "reason-beside-an-exposure": (
        DIAGONALS,
        'part = "measure"',
        'part = "measure"\nunexposed = "Nobody touches it."',
        (
            "long-diagonals.toml: unexposed: is said beside an exposure; a page that exposes nobody"
            " to anything says why"
        ),
    ),
    "goes-below-and-does-not-say-so": (
        "steps/history.toml",
        "how = [",
        'how = [\n  "Look at it from below too.",',
        (
            "history.toml: exposes: 'from below' is said on the page and 'under' is not declared;"
            " declare it, or say"
        ),
    ),
    "jacks-and-does-not-say-so": (
        "steps/history.toml",
        "how = [",
        'how = [\n  "Jack it up at one corner.",',
        "history.toml: exposes: 'jack ' is said on the page and 'lifting' is not declared",
    ),
    "plumbs-and-does-not-say-so": (
        "steps/history.toml",
        "spoils = [",
        'spoils = [\n  "A plumb bob that swings.",',
        "history.toml: exposes: 'plumb' is said on the page and 'sharp-points' is not declared",
    ),
    "rolls-and-does-not-say-so": (
        "steps/history.toml",
        "good = ",
        'alone = "Roll it forward by a hand."\ngood = ',
        "history.toml: exposes: 'roll it' is said on the page and 'rolling' is not declared",
    ),
    "undoes-straps-and-does-not-say-so": (
        "steps/lift-engine.toml",
        '"battery", ',
        "",
        (
            "lift-engine.toml: exposes: 'ground strap' is said on the page and 'battery' is not"
            " declared"
        ),
    ),
    "scrapes-and-does-not-say-so": (
        TOPS,
        '"old-paint", ',
        "",
        "rail-tops.toml: exposes: 'scrape' is said on the page and 'old-paint' is not declared",
    ),
    "gives-it-away-in-what-is-asked": (
        "steps/history.toml",
        "Was the car ever hit, or did it hit something?",
        "Seen from below: was the car ever hit?",
        "history.toml: exposes: 'from below' is said on the page and 'under' is not declared",
    ),
    "only_words-words-that-are-not-there": (
        "steps/tools.toml",
        'words = "Which bar with pointers"',
        'words = "Which bar has pointers"',
        "tools.toml: only_words: 'Which bar has pointers' is not said on the page; take it out",
    ),
    "only_words-words-taken-out": (
        "steps/tools.toml",
        '[[only_words]]\nwords = "Which bar with pointers"\nwhy = "It is only named."\n',
        "",
        "tools.toml: exposes: 'pointer' is said on the page and 'sharp-points' is not declared",
    ),
    "only_words-without-a-reason": (
        "steps/tools.toml",
        'why = "It lies on the bench, its points corked."\n',
        "",
        "tools.toml: only_words[1].why: is missing; add why =",
    ),
    "no-caution-for-a-bare-frame": (
        CAUTIONS,
        (
            'id = "under-bare"\ntitle = "Before you go under the bare frame"\nagainst ='
            ' ["under"]\nstances = ["bare"]'
        ),
        (
            'id = "under-bare"\ntitle = "Before you go under the bare frame"\nagainst ='
            ' ["under"]\nstances = ["lifted"]'
        ),
        (
            "cautions.toml: caution: nothing is read before 'under' where the car stands as 'bare';"
            " write a caution"
        ),
    ),
    "no-caution-for-a-car-on-its-wheels": (
        "exposures.toml",
        'name = "beside a lifted car"\nnear = true\nstances = ["lifted", "bare"]',
        'name = "beside a lifted car"\nnear = true',
        (
            "cautions.toml: caution: nothing is read before 'beside-lifted' where the car stands as"
            " 'wheels'"
        ),
    ),
    "caution-against-nothing-known": (
        CAUTIONS,
        'against = ["string"]',
        'against = ["strings"]',
        "cautions.toml: string.against: 'strings' is not known; did you mean 'string'?",
    ),
    "caution-covers-nothing-known": (
        CAUTIONS,
        'covers = ["beside-lifted"]',
        'covers = ["beside-lift"]',
        ".covers: 'beside-lift' is not known; did you mean 'beside-lifted'?",
    ),
    "caution-of-no-known-stance": (
        CAUTIONS,
        'stances = ["bare"]',
        'stances = ["bear"]',
        "stances: 'bear' is not known; did you mean 'bare'?",
    ),
    "caution-against-and-holds": (
        CAUTIONS,
        'holds = "nowhere"',
        'holds = "nowhere"\nagainst = ["under"]',
        (
            "against: or holds is missing, or both are there; say what it stands against, or what"
            " it holds"
        ),
    ),
    "hold-twice": (
        CAUTIONS,
        'holds = "nowhere"',
        'holds = "rocks"',
        "cautions.toml: holds: 2 say what holds where 'rocks'; write exactly one",
    ),
    "hold-missing": (
        CAUTIONS,
        'holds = "nowhere"',
        'holds = "rocks"',
        "cautions.toml: holds: 0 say what holds where 'nowhere'; write exactly one",
    ),
    "hold-for-no-known-reason": (
        CAUTIONS,
        'holds = "stale"',
        'holds = "stall"',
        "holds: 'stall' is not known; did you mean 'stale'?",
    ),
    "hold-without-large-words": (
        CAUTIONS,
        'big = "DO NOT LIFT"\n',
        "",
        "big: goes with holds; say it in the largest words there are",
    ),
    "large-words-too-long": (
        CAUTIONS,
        'big = "DO NOT LIFT"',
        'big = "DO NOT LIFT IT"',
        "big: is over 11 characters or holds more than A to Z and blanks; say it shorter",
    ),
    "large-words-in-small-letters": (
        CAUTIONS,
        'big = "DO NOT LIFT"',
        'big = "Do not lift"',
        "big: is over 11 characters or holds more than A to Z and blanks; say it shorter",
    ),
    "choice-with-needs-and-nothing-instead": (
        SUPPORTS,
        ', instead = "Only a bare frame,',
        ', insted = "Only a bare frame,',
        (
            "set-supports.toml: prompt[supports].choice[4].instead: goes with needs; say what to do"
            " for whoever may"
        ),
    ),
    "answer-that-says-no-known-standing": (
        SUPPORTS,
        'stands = "rocks"',
        'stands = "rock"',
        "stands: 'rock' is not known; did you mean 'rocks'?",
    ),
    "unknown-word": (
        TOPS,
        '"pitting"]',
        '"piting"]',
        "rail-tops.toml: words: 'piting' is not known; did you mean",
    ),
    "unknown-layout": (
        DIAGONALS,
        'part = "measure"',
        'part = "measure"\nlayouts = ["ladder"]',
        "layouts: 'ladder' is not known",
    ),
    "unknown-item": (
        DIAGONALS,
        'only = ["whole"]',
        'only = ["hole"]',
        "prompt.only: 'hole' is not known; did you mean",
    ),
    "unknown-tool-chosen": (
        "steps/tools.toml",
        'token = "fine-tape"',
        'token = "fein-tape"',
        "tools.toml: prompt.choice.token: 'fein-tape' is not known; did you mean 'fine-tape'?",
    ),
    "letter-says-bare": (
        TOPS,
        'letter = "l"',
        'letter = "b"',
        "letter 'b' already says how well a place was seen; use",
    ),
    "letter-says-painted": (TOPS, 'letter = "l"', 'letter = "p"', "letter 'p' already says"),
    "letter-says-dirty": (TOPS, 'letter = "l"', 'letter = "d"', "letter 'd' already says"),
    "letter-says-not-reached": (TOPS, 'letter = "l"', 'letter = "n"', "letter 'n' already says"),
    "letter-says-not-sure": (TOPS, 'letter = "l"', 'letter = "u"', "letter 'u' already says"),
    "two-answers-one-letter": (
        TOPS,
        'letter = "l"',
        'letter = "h"',
        "choice: two answers share a letter; give each",
    ),
    "letter-of-two": (
        TOPS,
        'letter = "l"',
        'letter = "lp"',
        "'lp' is not one small letter; use one of a to z",
    ),
    "letter-with-accent": (
        TOPS,
        'letter = "l"',
        'letter = "é"',
        "'é' is not one small letter; use one of a to z",
    ),
    "gap-without-signs": (
        BAR,
        'signs = ["past", "short"]',
        "",
        "signs: a gap needs a word for plus and one for minus",
    ),
    "signs-on-a-length": (
        DIAGONALS,
        "repeats = 2",
        'signs = ["a", "b"]',
        "signs: a gap needs a word for plus",
    ),
    "too-many-repeats": (
        DIAGONALS,
        "repeats = 2",
        "repeats = 40",
        "repeats: 40 is out of reason; use 1 to 9",
    ),
    "choice-repeated": (
        TOPS,
        'each = "side"\n',
        'each = "side"\nrepeats = 2\n',
        "repeats: a look is answered once; leave",
    ),
    "unknown-kind": (
        DIAGONALS,
        'kind = "length"',
        'kind = "lenght"',
        "kind: 'lenght' is not known; did you mean 'length'",
    ),
    "unknown-keep": (
        "steps/state.toml",
        '"state.engine"',
        '"state.enigne"',
        "keep: 'state.enigne' is not known; did you",
    ),
    "need-never-asked": (
        DIAGONALS,
        '"state.body"',
        '"state.boddy"',
        "needs.key: 'state.boddy' is neither a prompt nor",
    ),
    "need-without-tokens": (
        DIAGONALS,
        'any = ["loosened", "off"], ',
        "",
        "needs[2].any: is missing; add any =",
    ),
    "field-that-is-not-there": (
        DIAGONALS,
        "left {front_name} to",
        "left {fronts} to",
        "ask: '{fronts}' is no field here",
    ),
    "field-of-another-list": (
        TOPS,
        "Top of the {side}",
        "Top of the {front}",
        "ask: '{front}' is no field here; use one",
    ),
    "field-in-a-need": (
        TOPS,
        'key = "rail-tops/{side}"',
        'key = "rail-tops/{seid}"',
        "needs.key: '{seid}' is no field",
    ),
    "field-where-none-is": (
        "steps/string-set-up.toml",
        'ask = "height of',
        'ask = "{item} height of',
        "ask: '{item}' is no field here; leave it out",
    ),
    "field-with-a-format": (
        DIAGONALS,
        "{front_name}",
        "{front_name:d}",
        "ask: '{front_name}' is no field here",
    ),
    "field-without-a-name": (DIAGONALS, "{front_name}", "{}", "ask: '{}' is no field here"),
    "brace-alone": (
        DIAGONALS,
        "{front_name}",
        "{front_name",
        "has a brace without its twin; write a field as {front}",
    ),
    "point-that-is-none": (
        DIAGONALS,
        'end = "{rear}-right"',
        'end = "{rear}-rihgt"',
        (
            "long-diagonals.toml: prompt.end: 'rear-rihgt' is no point of the layout"
            " straight-ladder; did you mean 'rear-r"
        ),
    ),
    "start-missing": (
        DIAGONALS,
        'start = "{front}-left"\n',
        "",
        "start: is missing; name both points of the tape",
    ),
    "end-missing": (
        DIAGONALS,
        'end = "{rear}-right"\n',
        "",
        "end: is missing; name both points of the tape, or neither",
    ),
    "prompt-twice": (
        DIAGONALS,
        'id = "{front}-right--{rear}-left"',
        'id = "{front}-left--{rear}-right"',
        (
            "prompt.id: 'long-diagonals/whole/front-left--rear-right' stands there twice; give each"
            " prompt an id of its ow"
        ),
    ),
    "id-missing": (
        BAR,
        'id = "closing"\n',
        "",
        "id: is missing; a prompt that stands alone needs an id",
    ),
    "nothing-to-choose": (
        "steps/what-to-bring.toml",
        "choice = [",
        "choice = []\nspare = [",
        "choice: there is nothing to choose",
    ),
    "unknown-place-in-a-box": (
        LADDER,
        'rear = "center"',
        'rear = "centre"',
        "box[front-box].rear: 'centre' is not known",
    ),
    "unknown-place-of-a-level": (
        LADDER,
        'place = "tip"',
        'place = "tipp"',
        "level[horns].place: 'tipp' is not known; did",
    ),
    "unknown-kind-of-point": (
        LADDER,
        'kind = "hole"',
        'kind = "whole"',
        "place[tip].kind: 'whole' is not known; did you",
    ),
    "unknown-side": (
        LADDER,
        "half_width = 310",
        'half_width = 310\nsides = ["lift"]',
        "sides: 'lift' is not known; did",
    ),
    "negative-width": (
        LADDER,
        "half_width = 310",
        "half_width = -310",
        "place[front].half_width: is below zero; give the",
    ),
    "station-beyond-string": (
        LADDER,
        "x = 1550",
        "x = 2550",
        "station[behind].x: lies beyond the string; put it between",
    ),
    "string-turned-round": (
        LADDER,
        "[-80, 2100]",
        "[2100, -80]",
        "string: is not two places, front then rear; write",
    ),
    "string-of-one": (LADDER, "[-80, 2100]", "[-80]", "string: is not two places"),
    "string-a-number": (LADDER, "[-80, 2100]", "2100", "string: is not two places"),
    "string-of-words": (LADDER, "[-80, 2100]", '["a", "b"]', "string: is not two places"),
    "string-not-a-number": (LADDER, "[-80, 2100]", "[nan, nan]", "string: is not two places"),
    "place-not-a-number": (
        LADDER,
        "x = -450",
        "x = nan",
        "place[tip].x: is not a number that can be measured; write it",
    ),
    "place-without-bounds": (
        LADDER,
        "x = -450",
        "x = 1" + "0" * 400,
        "place[tip].x: is not a number that can be measured",
    ),
    "figure-of-words": (
        LADDER,
        "track = 1420",
        'track = "wide"',
        "figures.track: is str; write it as a number",
    ),
    "middle-and-a-side": (
        NOSE,
        'sides = ["middle"]',
        'sides = ["middle", "left"]',
        (
            "a-frame.toml: place[nose].sides: mixes the middle with a side; write sides ="
            ' ["middle"] and half_width = 0'
        ),
    ),
    "horns-not-marked": (
        "layouts/straight-ladder.toml",
        "horns = true\n",
        "",
        "place[tip].horns: is not said of a pair ahead of the front points; write horns = true",
    ),
    "horns-marked-behind-the-front": (
        "layouts/straight-ladder.toml",
        'id = "center"\n',
        'id = "center"\nhorns = true\n',
        "place[center].horns: is said of no pair ahead of the front points; leave it out",
    ),
    "unknown-plate-of-a-box": (
        "layouts/x-braced.toml",
        'through = "plate"',
        'through = "plaet"',
        "box[whole].through: 'plaet' is not known; did you mean 'plate'?",
    ),
    "plate-box-without-its-plate": (
        "layouts/x-braced.toml",
        'through = "plate"\n',
        "",
        (
            "x-braced.toml: box[whole].through: is missing; name the place in the middle from which"
            " the corners are taped"
        ),
    ),
    "horns-without-a-place-behind": (
        "layouts/leaf-ladder-light.toml",
        'rear = "front"',
        'rear = "rear"',
        (
            "horns.toml: prompt.end: '-right' is no point of the layout leaf-ladder-light; did you"
            " mean"
        ),
    ),
    "step-without-anything-to-ask": (
        "steps/nose-diagonals.toml",
        'any = ["nose"]',
        'any = ["plate"]',
        (
            "nose-diagonals.toml: prompt.only: asks nothing of the layout x-braced; add a [[needs]]"
            ' with key = "layout"'
        ),
    ),
    "need-of-a-kind-that-is-none": (
        "steps/nose-diagonals.toml",
        'any = ["nose"]',
        'any = ["noes"]',
        "nose-diagonals.toml: needs.any: 'noes' is not known; did you mean 'nose'?",
    ),
    "role-that-no-step-knows": (
        "layouts/double-drop.toml",
        'role = "part"',
        'role = "prat"',
        "double-drop.toml: front-box.role: 'prat' is what no step calls it; did you mean 'part'?",
    ),
    "layout-not-offered": (
        "steps/about-the-car.toml",
        '  { letter = "a", token = "a-frame", words = "an A: both rails meet in one nose" },\n',
        "",
        (
            "about-the-car.toml: prompt.choice: the layout 'a-frame' cannot be chosen; add a choice"
            " for it"
        ),
    ),
    "layout-offered-that-is-none": (
        "steps/about-the-car.toml",
        'token = "a-frame"',
        'token = "b-frame"',
        "about-the-car.toml: prompt.choice.token: 'b-frame' is not known; did you mean 'a-frame'?",
    ),
    "place-twice": (
        LADDER,
        'id = "center"\nname = "center"\nx = 1000\nh',
        'id = "front"\nname = "c"\nx = 9\nh',
        "twice; give",
    ),
    "bounds-not-rising": (
        LIMITS,
        'upto = "6 mm"',
        'upto = "2 mm"',
        "the bounds do not rise; order them from the smallest",
    ),
    "bound-no-figure": (
        LIMITS,
        'upto = "6 mm"',
        'upto = "a bit"',
        "upto: 'a bit' is not a figure; write it like",
    ),
    "bound-of-nothing": (
        LIMITS,
        'upto = "3 mm"',
        'upto = "0 mm"',
        "upto: '0 mm' is not a figure; write it like",
    ),
    "bound-no-share": (
        LIMITS,
        'upto = "3 mm"',
        'upto = "nan %"',
        "upto: 'nan %' is not a figure; write it like",
    ),
    "unknown-band": (
        LIMITS,
        'band = "watch"',
        'band = "wacth"',
        "band: 'wacth' is not known; did you mean 'watch'?",
    ),
    "unknown-mark": (
        LIMITS,
        'mark = "O"',
        'mark = "Q"',
        "mark: 'Q' is not known; use one of: C, M, O, P, X",
    ),
    "limit-twice": (
        LIMITS,
        'id = "sag-unloaded"',
        'id = "rail-shift"',
        "id: 'rail-shift' stands there twice; give each",
    ),
    "limit-no-table": (LIMITS, "format = 1", "format = 1\nlimit = 3\n#", "is not TOML"),
    "tool-that-is-none": (
        "tools.toml",
        'class = "II"',
        'class = "IV"',
        "tool[ordinary-tape].values: make no tape;",
    ),
    "tool-of-no-kind": (
        "tools.toml",
        'kind = "tape"',
        'kind = "laser"',
        "tool[ordinary-tape].values: make no laser; A tool",
    ),
    "caution-with-an-empty-sentence": (
        "cautions.toml",
        '    "Nobody goes under it or beside it until each place was looked at:",',
        '    "",',
        "cautions.toml: caution[hold-metal].lines: holds something that is not text",
    ),
    "caution-without-lines": ("cautions.toml", "lines = [", "sources = [", "is not TOML"),
    "word-twice": (
        "glossary.toml",
        'word = "',
        'word = "sag"\nmeaning = "x"\n[[word]]\nword = "',
        "'sag' stands there twice",
    ),
    "newer-format": (
        DIAGONALS,
        "format = 1",
        "format = 2",
        "long-diagonals.toml: format: is not 1; write format = 1",
    ),
    "no-format": (
        COURSE,
        "format = 1\n",
        "",
        "course.toml: format: is missing; add format = a whole number",
    ),
    "step-in-no-course": (
        COURSE,
        '    "odd-parts",\n',
        "",
        "odd-parts.toml: id: no course calls this step; add it to",
    ),
    "unknown-step-in-course": (
        COURSE,
        '"wheelbase"',
        '"wheelbass"',
        "courses.whole: 'wheelbass' is not known; did you",
    ),
    "step-twice-in-course": (
        COURSE,
        '"wheelbase"',
        '"level"',
        "courses.whole: 'level' stands there twice; call each",
    ),
    "course-missing": (
        COURSE,
        "short = [",
        "quick = [",
        "course.toml: courses: 'short' is missing; add short =",
    ),
    "course-no-list": (
        COURSE,
        "[courses]",
        "[courses]\nlong = 3",
        "courses.long: is int; write it as",
    ),
    "id-not-file-name": (
        DIAGONALS,
        'id = "long-diagonals"',
        'id = "diagonals"',
        "id: is not the file's name; write id = \"lo",
    ),
    "layout-id-kept-for-owners": (
        LADDER,
        'id = "behind"',
        'id = "own-behind"',
        (
            "station: 'own-behind' begins with own-, as only the places of a survey do; give it"
            " another id"
        ),
    ),
    "not-toml": (
        DIAGONALS,
        "minutes = 10",
        "minutes = ten",
        "long-diagonals.toml: file: is not TOML (Invalid value",
    ),
    "model-step-that-is-none": (
        "model.toml",
        'steps = ["level"]',
        'steps = ["levle"]',
        "model.toml: fault[twist].steps: 'levle' is no step; did you mean 'level'?",
    ),
    "model-step-of-two-faults": (
        "model.toml",
        'steps = ["level"]',
        'steps = ["level", "horns"]',
        "fault[horn-left].steps: 'horns' opens on 'twist' already; take it out of one of the two",
    ),
    "model-reason-for-no-check": (
        "model.toml",
        'voice = "box-diagonals"\nwhy',
        'voice = "box-diagonal"\nwhy',
        "voice: 'box-diagonal' is not known; did you mean 'box-diagonals'?",
    ),
    "model-fault-that-bends-nothing": (
        "model.toml",
        'bend = ["twist 8 mm"]\n',
        "",
        "model.toml: fault[twist].bend: is missing; add bend =",
    ),
}
