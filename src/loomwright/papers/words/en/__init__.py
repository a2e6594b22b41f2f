"""The English catalogue, one module per topic.

A text with `{name}` in it is a template: the papers fill each field with words or with a quantity.
"""
