"""What every route works with: settings and shop, and what is made of them once at the start."""

from dataclasses import dataclass

from service.door.keys import KeyRing
from service.door.machine.answer_cache import AnswerCache
from service.door.machine.deadline import Deadline
from service.door.machine.lanes import Lanes
from service.door.pages.docs_page import HtmlPage
from service.door.problems import Problem
from service.settings import Settings
from service.shop.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """The service as it runs. `stamp` goes into every entity tag: engine, shop and painter."""

    settings: Settings
    shop: Shop
    stamp: bytes
    document: bytes
    """The OpenAPI document."""
    docs: HtmlPage
    """The page of the OpenAPI document."""
    rules: HtmlPage
    """The chapter on the rules of the bench, with the figures of this shop."""
    keys: KeyRing
    """The API keys in force."""
    cache: AnswerCache[Problem]
    """What was made before."""
    lanes: Lanes
    """What may be made at the same time."""
    deadline: Deadline
    """The longest that one request is worked on."""
    bodies: Deadline
    """The longest that a body may take to come."""
