"""The work at the bench as data: what is done, to what, with what, using what, and what has to be done before.

Words are made of it in `sentences.py`, minutes in `service.workshop.labour`: what is told is what is charged.
"""
