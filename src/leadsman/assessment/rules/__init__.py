"""Rules of the port as limits of the passage: each says for any start what is left of it, and the sign decides.

where on her way a rule holds            stretch.py
when she is there, how fast, in what stream   march.py
rules about time: spans in which she may be there   spans.py, daylight.py, opening.py, traffic.py, tugs.py
rules about figures                      speed.py, stream.py, weather.py
which rule is judged by which, and all of them together   judged.py, rulebook.py

A new kind of rule is a dataclass in `leadsman.rule`, its table in `files/rule_file.py`, a module here that makes a
`Limit` of it, and a line in `judged.py`.
"""
