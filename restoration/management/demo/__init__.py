"""Loads the demonstration yard from `fixtures/demo/`, through the same actions the pages use."""
