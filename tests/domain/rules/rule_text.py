"""Texts of small rule files for the tests."""

HEAD = """\
id = "trial"
title = "Trial rules"
edition = "1"
scope = "Nothing but tests."
cautions = ["Scald: measure first."]
"""

CEILING = """\
[values."mixed.ceiling.basin"]
value = 43
unit = "degC"
source = { document = "A book", edition = "first", clause = "table 2" }
fact = "D08-32"
verified = false
effective = 2012-07-01
note = ""
"""

PIPE = """\
[values."pipe.blended"]
value = 2
unit = "m"
source = { document = "common practice, no source", edition = "", clause = "" }
fact = "TP-03"
verified = false
effective = 2012-07-01
note = ""
"""

RETEST = """\
[values."retest.put-right.to"]
value = 4
unit = "week"
source = { document = "this register's own default, no published source", edition = "", clause = "" }
fact = "OWN"
verified = false
effective = 2012-07-01
note = ""
"""

WHOLE = HEAD + CEILING


def dated(*values: tuple[float, str]) -> str:
    """A file whose basin ceiling has several dated values, each (°C, day)."""
    entry = CEILING.replace('[values."mixed.ceiling.basin"]', '[[values."mixed.ceiling.basin"]]')
    return HEAD + "".join(
        entry.replace("value = 43", f"value = {value}").replace("2012-07-01", day) for value, day in values
    )
