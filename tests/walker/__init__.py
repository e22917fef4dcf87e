"""A bench walker: makes a strap by hand from what an answer says, and stops at the first thing that cannot be done.

It knows leather, and nothing of the service: it takes pieces, hardware and steps from the JSON answer, does the steps
one after the other, and holds them against what every harness maker knows (common practice): ends and edges while a
piece is flat and bare, every hole before what goes through it, everything set before a fold or a joint is closed,
closed loops before the fold that traps them, nothing left over.
"""
