"""Vocabulary of a specialty: one YAML file each, found by listing this folder."""

from mmbuilder.packs.schema import Pack, available, every, load, meant, specialties

__all__ = ["Pack", "available", "every", "load", "meant", "specialties"]
