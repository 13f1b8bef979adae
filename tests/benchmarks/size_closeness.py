"""How near the dimension rules come to real tools, and on what the rules rest.

Run as ``python -m tests.benchmarks.size_closeness``: for every rule its check values (`tests/size_checks.py`), none of
which it was fitted to, the worst miss of the likely length and of the likely mass, how many values lie outside the
rule's own bounds, and what its length, width and height rest on.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Literal, TypeAlias

from matcher.records.units import to_mm
from matcher.tools.dimensions import EVERY_SYSTEM, rule_of
from matcher.tools.key_rules import INCH_KEY_RULES, METRIC_KEY_RULES, REMEMBERED_KEY_RULES
from matcher.tools.rules import Facts, Rule
from matcher.tools.sizes import parse_size
from tests.size_checks import CHECKS, MEMORY, PUBLISHED, SizeCheck

Ground: TypeAlias = Literal["published values", "published values in part", "memory", "common practice"]
GROUNDS: tuple[Ground, ...] = ("published values", "published values in part", "memory", "common practice")
RULES = tuple(
    rule
    for rule in (*EVERY_SYSTEM, *METRIC_KEY_RULES, *INCH_KEY_RULES, *REMEMBERED_KEY_RULES)
    if not {"other", "cased"} & set(rule.kinds)
)
"""Every rule that tells a size: other and cased pieces are measured."""
_SERIES = ((INCH_KEY_RULES, " (inch)"), (REMEMBERED_KEY_RULES, " (inch, remembered)"))
_SHORT = {"published values": "published", "published values in part": "in part"}


def ground(rule: Rule) -> Ground:
    """What a rule's dimensions rest on; ``memory`` where at least one is a remembered value of a standard."""
    measures = (rule.length, rule.width, rule.height)
    published = [measure.grade in ("R1", "R2", "D") for measure in measures]
    if any(published):
        return "published values" if all(published) else "published values in part"
    return "memory" if any(measure.grade in ("M+", "M-") for measure in measures) else "common practice"


def grounds() -> Counter[Ground]:
    """How many rules rest on what."""
    return Counter(ground(rule) for rule in RULES)


def checks_of(rule: Rule) -> list[SizeCheck]:
    """The check values of a rule."""
    return [check for check in CHECKS if check.kind in rule.kinds and rule_of(check.kind, _facts(check)) is rule]


def _facts(check: SizeCheck) -> Facts:
    """What chooses between the rules of a kind: its system and its width across flats."""
    size = parse_size(check.size, check.system, check.kind) if check.size else None
    return Facts(s=to_mm(size.flats or 0), inch=size.system == "inch") if size else Facts()


def _worst(checks: Iterable[SizeCheck]) -> str:
    misses = [check.miss for check in checks]
    return f"{max(misses, key=abs):+.0%}" if misses else ""


def main() -> None:
    """Print the table."""
    print(f"{'rule':44}{'values':>7}{'outside':>9}{'size':>7}{'mass':>7}  rests on")
    for rule in RULES:
        checks = checks_of(rule)
        sizes = [check for check in checks if check.axis != "mass"]
        weights = [check for check in checks if check.axis == "mass"]
        outside = sum(not check.within for check in checks)
        name = rule.kinds[0] + (f" and {len(rule.kinds) - 1} more" if len(rule.kinds) > 1 else "")
        name += "".join(words for rules, words in _SERIES if rule in rules)
        least = ", longer than a least value" if rule.length.least else ""
        rests = f"{_SHORT.get(ground(rule), ground(rule))}{least}"
        print(f"{name:44}{len(checks):7}{outside:9}{_worst(sizes):>7}{_worst(weights):>7}  {rests}")
    practice = sum(check.source == MEMORY for check in CHECKS)
    standards = len(CHECKS) - len(PUBLISHED) - practice
    print(
        f"{len(CHECKS)} values: {len(PUBLISHED)} published, {standards} of standards from memory, {practice} {MEMORY}"
    )
    found = grounds()
    print(f"{len(RULES)} rules rest on: {', '.join(f'{name} {found[name]}' for name in GROUNDS)}")


if __name__ == "__main__":
    main()
