"""A file that can be read and holds what no prompt would ever have taken."""

HOSTILE = """
format = 1
[survey]
car = "\\u001B]0;x\\u0007 [/bold] {x} %s"
layout = "LAYOUT"
unit = "mm"
[[state]]
id = "s1"
engine = "sideways"
[[tool]]
id = "t1"
kind = "tape"
class = "IX"
division = "none"
[[reading]]
id = "r1"
prompt = "long-diagonals/whole/front-left--rear-right"
typed = "ninety"
tool = "t1"
[[reading]]
id = "r2"
prompt = "long-diagonals/whole/front-left--rear-right"
typed = "2300"
tool = "t9"
state = "s9"
[[reading]]
id = "r3"
prompt = "long-diagonals/whole/front-right--rear-left"
typed = "0"
[[reading]]
id = "r4"
prompt = "no/such/prompt"
typed = "1"
[[reading]]
id = "r5"
prompt = "level/horns/as-set"
typed = "3 left"
tool = "t1"
[[look]]
id = "k1"
prompt = "rail-tops/left"
seen = "seldom"
answer = "moss"
[[size]]
id = "z1"
name = "track"
typed = "wide"
[[place]]
id = "w1"
use = "tape"
place = "own-x"
name = "\\u001B]0;x\\u0007 [/] {front} %s"
kind = "laser"
behind = "1450 mm"
[[place]]
id = "w2"
use = "level"
place = "own-{front}"
name = "x"
behind = "1e999 mm"
[[limit]]
id = "l1"
limit = "twist"
band = "watch"
upto = "plenty"
[[answer]]
id = "a1"
prompt = "about-the-car/course"
answer = "sideways"
"""
