"""What each page of the survey exposes a person to.

Written from the pages and not from their declarations: from the words of each page (why, how,
spoils, good, alone, instead, paper, prompts and choices) and from what the body must do to answer
them. Where it depends on the state of the car (body bolted, loosened or off; engine in, its weight
off, or out; on wheels, on stands, or a bare frame) the union is given and the comment says so.

The rules that were kept to:

- under: a hand, arm or head beneath the car, a fender, a rail or a flange, body on or off.
- beside-lifted: at the car at all, since it may stand on stands, also before the supports are set.
- lifting: the page raises, lowers or re-sets something, or the engine must stand on wood for it.
- string: the page sets a taut string, reads it, or is reached while it has to stay up.
- sharp-points: a plumb bob, pointer, scriber or pin is in the hand. A center pop alone is not.
- wire-wheel: metal is to be bare, or a crack is looked for that only bare metal shows.
- old-paint: paint, underseal, webbing, pads, boards, scale or brake dust are disturbed. A rag on
  one rivet head is not, nor a bare look.
- fuel: the tank or a fuel hose is worked at, or bare metal is made, tapped, pierced or scooped at
  along the whole rail, where the pipe runs and the tank hangs; or the words name the tank.
- battery: ground strap, battery or wiring is undone or done up.
- solvents: cleaner, dye or developer out of a can.
- hot-parts: exhaust, engine or cooling system is undone, touched, or named where the hand goes.
"""


def _to(dangers: str) -> frozenset[str]:
    """The dangers named in a line."""
    return frozenset(dangers.split())


def _both(place: str, dangers: str) -> dict[str, frozenset[str]]:
    """The same place on the left and on the right of the car."""
    return {f"{side}-{place}": _to(dangers) for side in ("left", "right")}


BY_HAND: dict[str, frozenset[str]] = {
    # "Stretch the string over both blocks", held to the beam between the wheels of a car on stands.
    "beam-string": _to("under beside-lifted string"),
    # "from the rail's lower edge straight down to the spring's perch": an arm behind the wheel; "each rear
    # shackle": the tank hangs beside it.
    "spring-perches": _to("under beside-lifted fuel"),
    # "gauge on the beam's machined face or spring pad": an arm behind the wheel; the rim from outside.
    "caster-camber": _to("under beside-lifted"),
    # "Lift at the front beam until one wheel is just clear", "Set a stand under the axle beam": an arm
    # goes under the beam to set it.
    "kingpin-play": _to("lifting beside-lifted under"),
    # "two people roll it half a turn"; the tape goes from tire to tire under the car's front end.
    "toe-tapes": _to("under beside-lifted rolling"),
    # "Feel the inner face with a flat hand": head and arm under the fender; panels off: neither.
    "body-ripples": _to("under beside-lifted"),
    # "and the other from below"; the tank in the way sends him here; body off: leaning in.
    "box-diagonals": _to("under beside-lifted fuel"),
    # "Ruler upright on the web ... to its lower edge", at the stations of a string that is up; nothing is
    # scraped.
    "by-make": _to("under beside-lifted string"),
    # "step, exhaust, brake and battery brackets", "Try each ... by hand", "ends of every weld for a crack".
    "bracket-rivets": _to("under beside-lifted wire-wheel old-paint fuel hot-parts"),
    # "Wipe each head", "Thick paint holds a loose rivet still", "Push the crossmember by hand".
    "center-crossmember-rivets": _to("under beside-lifted wire-wheel old-paint"),
    # "drain holes underneath", "Push a scriber hard", "Brush around each body mount".
    "closed-rails": _to("under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "poke each open with a wire", "Press a scriber into dull places", "Brush each arm's root bare".
    "center-box": _to("under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "Brush each root to bare metal", "Press a scriber into dull places": below, along the whole box.
    "outriggers": _to("under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "Press a scriber in at bolts and joints": below and behind the sill, along the whole rail.
    "wooden-sills": _to("under beside-lifted sharp-points old-paint fuel"),
    # "Strip the place to bare metal", cleaner, dye, developer; any place, by tank and exhaust.
    "dye": _to("under beside-lifted wire-wheel old-paint fuel hot-parts solvents"),
    # "Close each door slowly": pushes a lifted car. Steering and brakes: from memory, no exposure.
    "consequences": _to("beside-lifted"),
    # "Lie where you can get out fast"; "Tank or exhaust in the way?"; "Or drop a plumb line".
    "diagonals-below": _to("under beside-lifted sharp-points fuel hot-parts"),
    # "a clean stretch where grease kept the rust away": grease wiped off, by engine and below.
    "die-marks": _to("under beside-lifted old-paint"),
    # "Brush to bare metal round each mount ... underneath": by pump, pipe, manifold; engine in.
    "engine-mounts": _to("under beside-lifted wire-wheel old-paint fuel hot-parts"),
    # "Run a finger around each edge", "Rub, oil, wipe dry", lower flange too, whole rail.
    "extra-holes": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Hold the bar to the lower flanges" (body on); engine in: hot; short survey: string still up.
    "front-box-bar": _to("under beside-lifted string sharp-points hot-parts"),
    # "Brush each bracket or outrigger ... to bare metal": along the whole rail, pipe and tank too.
    "body-mounts": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Clean to bare metal around every hole, bend, weld and flange edge".
    "front-crossmember-cracks": _to("under beside-lifted wire-wheel old-paint"),
    # "every rivet, from above and from below", "Thick paint holds a loose rivet still".
    "front-crossmember-rivets": _to("under beside-lifted wire-wheel old-paint"),
    # "Scrape each hanger ... to bare metal", inside and out; the rear one hangs beside the tank.
    "front-springs": _to("under beside-lifted wire-wheel old-paint"),
    "rear-springs": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Brush the rail to bare metal around each bolt": the box sits beside the exhaust; engine in.
    "steering-mount": _to("under beside-lifted wire-wheel old-paint hot-parts"),
    # "both faces of the flange", "with blistered paint around it", "Feel", "close to the pipe".
    "heat-and-clamps": _to("under beside-lifted old-paint hot-parts"),
    # "on top, outside and underneath"; "a crack at each weld's end", seen bare only.
    "horn-welds": _to("under beside-lifted wire-wheel old-paint"),
    # "each tip to both dots behind those": arms below radiator and engine; body off: leaning.
    "horns": _to("under beside-lifted"),
    # "Scoop mud out", "Push a scriber hard": fuel pipe and wiring lie in the channel.
    "inside-channel": _to("under beside-lifted sharp-points old-paint fuel"),
    # "Go from crossmember to crossmember", "Brush both ends of every weld to bare metal".
    "joint-welds": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Fingers stay out from between body and frame"; each mount reached under fender or sill.
    "body-shims": _to("under beside-lifted old-paint pinched"),
    # "Clamp the blocks under the rail", "Taut string", "bolt through and slack".
    "string-slack": _to("under beside-lifted string pinched"),
    # "Draw the bolts tight", "Read each station again" under the same string.
    "string-tight": _to("under beside-lifted string pinched"),
    # "Lamp along the shaft", "along the exhaust", "battery off", "Look from above at the fan".
    "drive-line": _to("under beside-lifted battery hot-parts"),
    "what-is-free": _to("under beside-lifted battery hot-parts"),
    # "Clean each bend of the rail, front and rear, top and underneath": rear one by the tank.
    "kick-bends": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Brush along each seam", "press a scriber" below; the rear boxes lie beside the tank.
    "torque-boxes": _to("under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "Hang the blocks from the lower flanges" (body on). The frame is set anew on another page.
    "level": _to("under beside-lifted"),
    # "exhaust clamp, rods, hoses, ground strap", "Leave supports, blocks and string as they are".
    "lift-engine": _to("under beside-lifted lifting string fuel battery hot-parts"),
    # "Plumb each dot to the ground and tape the chalk" (body loosened); body off: leaning over.
    "long-diagonals": _to("under beside-lifted sharp-points"),
    # "lower slowly", "Put back what you undid"; the string is still up from the sag.
    "lower-engine": _to("under beside-lifted lifting string fuel battery hot-parts"),
    # "Go to the other rail and look at the same distance": inner and lower faces, nothing scraped.
    "manufacture-marks": _to("under beside-lifted"),
    # "Drop nose and corners to the floor with a plumb bob"; "bent round ... a brake rod".
    "nose-diagonals": _to("under beside-lifted sharp-points"),
    # "spring with spring, shackle with shackle"; "casting marks" of hubs: brake dust wiped.
    "odd-parts": _to("under beside-lifted old-paint"),
    # "A blade that hangs down in the middle: hold it up there"; "Tank or spring in the way".
    "own-sides": _to("under beside-lifted fuel"),
    # "where each crossmember ... meets the rail", "Scrape it and hold the lamp low": by the tank.
    "paint-cracks": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Shut the hood and latch it. Do not lean on it", gap read "low down" from beside.
    "panel-gaps": _to("beside-lifted"),
    # "to bare metal", "use a pin"; worst place anywhere; face prompt: "the lower flange".
    "pitting": _to("under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "Go below it on both sides": the gearbox; body off: leaning over.
    "plate-to-corners": _to("under beside-lifted"),
    # "to bare metal on both faces", "a pin down into it": anywhere along the rail, pipe and tank too.
    "thin-metal": _to("under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "Hang a plumb line from ... the crank pulley"; engine in; short survey: string still up.
    "pulley-hint": _to("under beside-lifted string sharp-points hot-parts"),
    # "Clean the outer face", "Run your fingers over and under both flanges".
    "rail-sides": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Take off the webbing and pads", "Scrape and wire-brush ... front to rear", "Drag a pin".
    "rail-tops": _to("under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "Scrape out the mud. Brush to metal"; "mirror and the lamp to see over the top"; by the tank.
    "rear-crossmember": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Bring your eye level with the string"; string below if body bolted; "Rule ... on bare metal".
    "sag-loaded": _to("under beside-lifted string old-paint"),
    # "eye level with the string"; the engine was blocked up on the page before, nothing is lifted.
    "sag-unloaded": _to("under beside-lifted string"),
    # "looked all around web and flanges"; "Ground flush?" and the seam show on bare metal only.
    "sectioned-rails": _to("under beside-lifted wire-wheel old-paint fuel"),
    # "Roll it straight", "four stands", "Push hard"; metal looked at from outside, paint scraped.
    "jack-places": _to("beside-lifted lifting rolling old-paint"),
    "set-supports": _to("beside-lifted lifting rolling old-paint"),
    # "Count the shims": fingers between body and frame, on pads, webbing, boards.
    "stacked-shims": _to("under beside-lifted old-paint"),
    # "Clamp the blocks under the rail, the string below" (body in the way); "twice the weight".
    "string-set-up": _to("under beside-lifted string"),
    # "Look at the crossmember and both horns", "saw each weld's end bare", "Tap the plate".
    "welded-plates": _to("under beside-lifted wire-wheel old-paint"),
    # "roll it straight a little way", plumb line, "to its rail's dot": arms beneath.
    "wheelbase": _to("under beside-lifted rolling sharp-points"),
    # "Drop both points to the floor with a plumb bob", chalked beneath; body bolted: from below.
    "widths": _to("under beside-lifted sharp-points"),
    # "Dot a rivet of the front crossmember, the same one": reached from below, body on.
    "your-hand": _to("under beside-lifted"),
    # Places of a round: whatever any of their looks exposes to, since each is taken there.
    # "scrape and brush the rail's top", the pin over the pits, an arm in each fender; tank behind.
    **_both("beside", "under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "to bare metal round every rivet"; the mount: by pump, pipe and manifold.
    **_both("front", "under beside-lifted wire-wheel old-paint fuel hot-parts"),
    # "both flanges", "mirror and lamp inside": the scriber at brown places, by pipes and tank.
    **_both("rail", "under beside-lifted sharp-points wire-wheel old-paint fuel"),
    # "Scrape out the mud and brush the joints bare"; brackets of the exhaust, marks of its heat.
    **_both("rear", "under beside-lifted wire-wheel old-paint fuel hot-parts"),
}

NONE: dict[str, str] = {
    "about-the-car": "A name, a unit; the kind of frame is picked from a step away.",
    "axle-book": "A book, read at the bench.",
    "finish": "Only writing: what was noticed, what is still to settle. Nothing moves.",
    "history": "Told by people, bills and pictures; the car is not looked at.",
    "my-points": "Taped on the floor a step from the car; what is not seen from there is guessed.",
    "next-time": "A date is chosen and written down.",
    "since-last-time": "From memory, the log and the photos; points are found on their own pages.",
    "state": "From a step away; bolts not known are called bolted, fuel by gauge or memory.",
    "tools": "On the bench: tape pulled out, level turned end for end, the rest picked from lists.",
    "what-to-bring": "Laid out on a board, points corked; nothing is done with them yet.",
    "wobble-felt": "From memory alone; the car is not gone to, and not driven.",
}

CAUTION: dict[tuple[str, str], str] = {
    ("under", "lifted"): "going-under",
    ("under", "wheels"): "under-on-wheels",
    ("under", "bare"): "under-bare",
    ("beside-lifted", "lifted"): "beside",
    ("beside-lifted", "bare"): "beside-bare",
    ("lifting", "lifted"): "jacking",
    ("lifting", "wheels"): "jacking",
    ("lifting", "bare"): "lifting-bare",
    ("rolling", "wheels"): "rolling",
    **{
        (e, how): e
        for e in (
            *("string", "sharp-points", "wire-wheel", "old-paint"),
            *("fuel", "battery", "hot-parts", "pinched", "solvents"),
        )
        for how in ("lifted", "wheels", "bare")
    },
}
"""What is read before each danger as the car stands; nothing where there is none: a car on its own
wheels is not lifted, and one on stands does not roll. Where nobody has said what it stands on, it
may be either.
"""
COVERS = frozenset({"going-under", "under-bare", "jacking", "lifting-bare"})
"""Cautions that say enough of standing beside the car."""
NEAR = frozenset({"under", "beside-lifted", "lifting", "rolling"})
"""Dangers that are within reach of a car that may fall."""
