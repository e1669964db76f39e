"""Can she be held: statics of wind, stream, engine, rudder, thrusters, tugs, fenders and anchors.

case.py       what stands against what: plain numbers, no things
windage.py    from her profile to her windage by every method that suits her
from_ship.py  from the things of a port call to a case; assumptions told as findings
means.py      what each engine, rudder, thruster, tug and fender can make, as reaches
hold.py       is it held, with what reserve, who does what
rose.py       greatest wind and current by direction for each set of tugs; what she can make by direction
tugs.py       pull and number of tugs needed, by statics and by published rules; which tug where
landing.py    how hard she lands, when the lines must be fast, lifting off
anchoring.py  whether the anchor holds, cable, swing room, bringing up
"""
