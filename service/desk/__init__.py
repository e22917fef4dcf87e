"""The desk: what is done for a request, from its document to the answer's data or bytes. Knows no HTTP.

Every function is pure: the same document, shop and options give the same result in any process.
"""
