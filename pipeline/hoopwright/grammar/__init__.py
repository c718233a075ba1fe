"""Loads and checks the grammar files and compiles them for matching. The manual's own parts list extends them."""

from hoopwright.grammar.load import Grammar, load_grammar

__all__ = ["Grammar", "load_grammar"]
