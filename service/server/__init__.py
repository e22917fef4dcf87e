"""How gunicorn meets callers here: when a thread is given to a request, and what is left of servers that are no more.

Knows sockets and gunicorn; nothing of what is answered. The server's settings file (deploy/gunicorn.conf.py) names it.
"""
