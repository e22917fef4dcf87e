"""Bodies of any length that a reader of JSON, or one of its mistakes, is known to choke on."""

from collections.abc import Callable, Iterator
from itertools import count

Make = Callable[[int], bytes]
OPEN = b'"construction":"open","size":{"body_length":"24 in"}'


def filled(size: int, begin: bytes, piece: bytes, end: bytes, between: bytes = b"") -> bytes:
    """A piece over and over, to about a size; `%d` in it counts."""
    room = max(1, size - len(begin) - len(end))
    return begin + between.join(_pieces(piece, between, room)) + end


def _pieces(piece: bytes, between: bytes, room: int) -> Iterator[bytes]:
    for number in count():
        each = piece.replace(b"%d", b"%d" % number)
        room -= len(each) + len(between)
        if room < 0:
            return
        yield each


def texts(begin: bytes, piece: bytes, end: bytes) -> Make:
    """Bodies with a piece over and over."""
    return lambda size: filled(size, begin, piece, end)


def lists(begin: bytes, piece: bytes, end: bytes) -> Make:
    """Bodies with a list of one piece over and over."""
    return lambda size: filled(size, begin, piece, end, b",")


def nested(begin: bytes, outer: tuple[bytes, bytes], piece: bytes, end: bytes, each: int = 30) -> Make:
    """Bodies with a list of lists, each of `each` pieces."""
    inner = b",".join([piece] * each)
    return lambda size: filled(size, begin, outer[0] + inner + outer[1], end, b",")


DOCUMENTS: dict[str, Make] = {
    "a text without an end, escaped quotes": texts(b'{"a":"' + b"[]" * 33, rb"\"", b""),
    "texts that begin at each quote": texts(b"[]" * 33, b'"\\', b""),
    "quotes": texts(b"[]" * 33, b'"', b""),
    "backslashes": texts(b"[]" * 33 + b'"', b"\\", b""),
    "backslashes and the last one alone": texts(b"[]" * 33 + b'"', b"\\\\", b"\\"),
    "short texts": lists(b"[" + b"[]," * 33, b'"[{"', b"]"),
    "opening brackets": texts(b"", b"[", b""),
    "opening and closing brackets": lists(b"[", b"[]", b"]"),
    "closing brackets": texts(b"[" * 20 + b"[]," * 33, b"]", b""),
    "empty objects": lists(b"[", b"{}", b"]"),
    "commas": texts(b"[", b",", b"]"),
    "small numbers": lists(b"[", b"1", b"]"),
    "blanks": texts(b"", b" ", b"{"),
    "line breaks before what is wrong": texts(b"{", b"\n", b"!"),
    "escapes of letters": texts(b'"', rb"\u00e9", b'"'),
    "surrogate pairs": texts(b'"', rb"\ud83d\ude00", b'"'),
    "surrogates, the last one alone": texts(b'"', rb"\ud83d\ude00", rb'\ud800"'),
    "digits": texts(b"[", b"9", b"]"),
    "digits behind a point": texts(b"[0.", b"9", b"]"),
    "an exponent": texts(b"[1e", b"9", b"]"),
    "minus signs": texts(b"[", b"-", b"]"),
    "numbers of the most digits": lists(b"[", b"9" * 60, b"]"),
    "large exponents": lists(b"[", b"1e99999", b"]"),
    "one key over and over": lists(b"{", b'"a":1', b"}"),
    "keys, the last one given twice": lists(b"{", b'"%d":1', b',"0":1}'),
    "objects with a key twice": lists(b"[", b'{"a":1,"b":1,"c":1}', b',{"a":1,"a":1}]'),
    "no UTF-8 at the end": texts(b'"', "é".encode(), b'\xff"'),
}
"""For the reader of JSON."""

SPECS: dict[str, Make] = {
    "unknown keys": lists(b"{", b'"%d":1', b"}"),
    "unknown keys like a known one": lists(b"{", b'"constr%dction":1', b"}"),
    "unknown keys, long": lists(b"{", b'"' + b"construction" * 4 + b'%d":1', b"}"),
    "one long unknown key": texts(b'{"', b"e", b'":1}'),
    "an unknown key of slashes and tildes": texts(b'{"', b"~/", b'":1}'),
    "unknown keys in a part": lists(b"{" + OPEN + b',"ornaments":{', b'"coun%d":1', b"}}"),
    "a long word": texts(b'{"construction":"', b"one_piece", b'"}'),
    "a long id": texts(b"{" + OPEN + b',"leather":"', b"a ", b'"}'),
    "a long seal": texts(b'{"sealed":"', b"eyJ9", b'"}'),
    "unknown members beside a seal": lists(b'{"sealed":"x",', b'"%d":1', b"}"),
    "a length of digits": texts(b'{"construction":"open","size":{"body_length":"', b"1", b'"}}'),
    "a length of fractions": texts(b'{"construction":"open","size":{"body_length":"', b"1 1/2 ", b'"}}'),
    "a list instead of an id": lists(b"{" + OPEN + b',"leather":[', b"1", b"]}"),
    "a list of ids too long": lists(b"{" + OPEN + b',"ornaments":{"count":2,"items":[', b'"x"', b"]}}"),
    "a list of objects too long": lists(b"{" + OPEN + b',"border":[', b'{"itm":"x"}', b"]}"),
}
"""For the reader of specs."""

QUOTES: dict[str, Make] = {
    "unknown keys": lists(b"{", b'"%d":1', b"}"),
    "unknown keys of a line": lists(b'{"lines":[{', b'"re%d":1', b"}]}"),
    "lines that are numbers": lists(b'{"lines":[', b"1", b"]}"),
    "empty lines": lists(b'{"lines":[', b"{}", b"]}"),
    "unknown choices": lists(b'{"lines":[{"ref":"a","design":"door_strap","choices":{', b'"len%dth":1', b"}}]}"),
    "a choice that is a list": lists(
        b'{"lines":[{"ref":"a","design":"door_strap","choices":{"length":[', b"1", b"]}}]}"
    ),
    "unknown designs": lists(b'{"lines":[', b'{"ref":"%d","design":"dor_strap"}', b"]}"),
    "unknown keys of many lines": lists(b'{"lines":[', b'{"rf":1,"quantty":1,"desgn":1,"chices":1,"spc":1}', b"]}"),
    "one ref over and over": lists(b'{"lines":[', b'{"ref":"a","design":"door_strap"}', b"]}"),
    "wrong words": lists(
        b'{"lines":[',
        b'{"ref":"%d","spec":{"construction":"opn","units":"im","size":{"girth":1,"measured_from":"b"}}}',
        b"]}",
    ),
    "wrong lists": nested(
        b'{"lines":[',
        (b'{"ref":"a","spec":{"construction":"open","size":{"girth":1},"border":[', b"]}}"),
        b'{"item":1,"inst":2}',
        b"]}",
        24,
    ),
    "codes of wrong specs": lists(b'{"lines":[', b'{"ref":"%d","code":"' + b"eyIwIjoxLCIxIjoxfQ" + b'"}', b"]}"),
}
"""For the reader of quotes."""

_PIECE = b'{"name":"a","leather":"harness_8_9","width":1,"length":1}'
CUT_PLANS: dict[str, Make] = {
    "empty pieces": nested(b'{"orders":[', (b'{"ref":"a","pieces":[', b"]}"), b"{}", b"]}", 1000),
    "pieces that are numbers": nested(b'{"orders":[', (b'{"ref":"a","pieces":[', b"]}"), b"1", b"]}", 1000),
    "unknown leathers": nested(
        b'{"orders":[', (b'{"ref":"a","pieces":[', b"]}"), _PIECE.replace(b"harness", b"hrness"), b"]}"
    ),
    "one ref over and over": nested(b'{"orders":[', (b'{"ref":"a","pieces":[', b"]}"), _PIECE, b"]}"),
    "one id of stock over and over": lists(
        b'{"orders":[{"ref":"a","pieces":[' + _PIECE + b']}],"stock":[',
        b'{"id":"a","leather":"x","length":1,"width":1,"count":0}',
        b"]}",
    ),
}
"""For the reader of cut plans."""

_HEAD = b"ref,design,quantity,length,bells\n"
TABLES: dict[str, Make] = {
    "a quote that is never closed": texts(b'ref,design\n"', b"a,b\n", b""),
    "a header that is never closed": texts(b'"', b"a;b", b""),
    "quotes in quotes": texts(b'ref,design\n"', b'""', b'",a\n'),
    "quotes": texts(b"ref,design\na", b'"', b",a\n"),
    "separators": texts(b"", b",", b"\n"),
    "separators in a row": texts(_HEAD, b",", b"\n"),
    "semicolons in quotes": texts(b'ref,design\n"', b";", b'",b\n'),
    "line breaks": texts(_HEAD, b"\n", b"a"),
    "rows of blank cells": texts(_HEAD, b",,,,\n", b""),
    "rows of too few cells": texts(_HEAD, b"a,b\n", b""),
    "rows of wrong cells": texts(_HEAD, b"=%d,dor_strap,x,15 parsec,many\n", b""),
    "rows of unknown designs": texts(_HEAD, b"%d,dor_strap,,,\n", b""),
    "rows alike": texts(_HEAD, b"A,door_strap,1,,\n", b""),
    "names of columns": texts(b"ref,design", b",bels%d", b"\n"),
    "one long name of a column": texts(b"ref,design,", b"bells", b"\n"),
    "one long cell": texts(b"ref,design\nA,", b"door_strap", b"\n"),
    "sizes": texts(b"ref,design,sizes\nA,bell_garter,", b"%d|", b"\n"),
    "blanks": texts(b"ref,design\n", b" ", b"\n"),
    "control characters": texts(b"ref,design\n", b"\x00", b"\n"),
    "no UTF-8 at the end": texts(b"ref,design\n", "\u00e9".encode(), b"\xff"),
}
"""For the reader of orders as CSV."""

SHOP_FILES: dict[str, Make] = {
    "brackets": lists(b"", b"[\n" * 60, b""),
    "opening brackets in a value": texts(b"a = ", b"[\n", b""),
    "inline tables": texts(b"a = ", b"{b=", b"1"),
    "keys with dots": texts(b"", b"a.b.c.d.e.f.g.h%d = 1\n", b""),
    "deep tables": texts(b"", b"[a.b.c.d.e.f.g.h.i.j.k.l.m.n.o.p.q.r.s.t%d]\n", b""),
    "keys of one table": texts(b"[a.b.c]\n", b"d%d = 1\n", b""),
    "tables of tables": texts(b"", b"[[a]]\nb = 1\n", b""),
    "unknown tables": texts(b"", b"[leathrs.a%d]\n", b""),
    "wrong goods": texts(b"", b"[leathers.a%d]\ntitle = 1\n", b""),
    "wrong designs": texts(b"", b"[designs.a%d]\ntitle = 1\n", b""),
    "wrong exports": texts(b"", b"[exports.a%d.columns]\nbels = 'x'\n", b""),
    "a text of several lines": texts(b'a = """', b"x\n", b""),
    "escapes": texts(b'a = """', b"\\u00e9\n", b'"""'),
    "digits": texts(b"", b"a%d = 1000000000000000000000000000000\n", b""),
    "comments": texts(b"", b"# a\n", b""),
}
"""For the reader of a shop file that somebody sent."""
