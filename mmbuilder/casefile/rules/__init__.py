"""Faults in meaning: one file, one rule.

A rule has `CODE`, `WHY` (why it matters), `GOOD` and `BAD` (changes to the minimal case of the
tests that keep and break it), and `check(ctx)`, which yields a `Finding` for each fault. A
contract test runs every `GOOD` and `BAD`. A rule that compares several keys of one entry sets
`WIDE`, and keeps quiet where the schema refused any of them.
"""
