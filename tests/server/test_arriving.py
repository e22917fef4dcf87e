"""When a request is whole: RFC 9112, sections 2.1 (the head's end), 6.2 (a length) and 7.1 (the last chunk)."""

import pytest

from service.server.arriving import Arriving

GET = b"GET / HTTP/1.1\r\nHost: a\r\n\r\n"
POST = b"POST / HTTP/1.1\r\nHost: a\r\n"
LONG = POST + b"content-LENGTH: 5\r\n\r\n"
CHUNKED = POST + b"Transfer-Encoding: chunked\r\n\r\n"


def fed(whole, step=1, head_max=1000, body_max=1000):
    """How many bytes had come when it was taken for whole; None where it never was."""
    arriving = Arriving(head_max, body_max)
    for start in range(0, len(whole), step):
        if arriving.add(whole[start : start + step]):
            return min(len(whole), start + step)
    return None


@pytest.mark.parametrize("step", [1, 2, 3, 7, 1000])
@pytest.mark.parametrize(
    "whole",
    [
        GET,
        LONG + b"12345",
        CHUNKED + b"5\r\n12345\r\n0\r\n",
        CHUNKED + b"0\r\n",
        CHUNKED + b"2\r\n12\r\n00 ;why=not\r\n",
        POST + b"Content-Length: 0\r\n\r\n",
        POST + b"Content-Length:\t5 \r\n\r\n12345",
    ],
)
def test_a_request_is_whole_with_its_last_byte_and_not_before(whole, step):
    came = fed(whole, step)
    assert came is not None
    assert came == len(whole)


@pytest.mark.parametrize("part", [b"", GET[:-1], GET[:-2], LONG, LONG + b"1234", CHUNKED, CHUNKED + b"5\r\n12345\r\n0"])
def test_a_part_is_waited_for(part):
    assert fed(part) is None


def test_a_chunk_that_ends_in_a_nought_is_not_the_last():
    assert fed(CHUNKED + b"a\r\n1234567890\r\n10\r\n") is None


def test_a_caller_who_waits_to_be_told_to_go_on_is_not_waited_for():
    """RFC 9110, section 10.1.1: `Expect: 100-continue` sends no body before the answer."""
    head = POST + b"Expect: 100-continue\r\nContent-Length: 5\r\n\r\n"
    assert fed(head) == len(head)


def test_what_is_longer_than_may_be_is_left_to_who_refuses_it():
    assert fed(b"a" * 50, head_max=40) == 41
    assert fed(POST + b"Content-Length: 5000\r\n\r\n" + b"1" * 50, body_max=20) == len(POST) + 24 + 20
    assert fed(CHUNKED + b"ffff\r\n" + b"1" * 50, body_max=20) == len(CHUNKED) + 20


def test_what_comes_behind_a_request_is_given_out_with_it_and_once():
    arriving = Arriving(1000, 1000)
    assert arriving.add(GET + b"GET /next")
    assert arriving.take() == GET + b"GET /next"
    assert (len(arriving), arriving.has_head, arriving.take()) == (0, False, b"")
