"""Figures as SVG: a record of numbers and words in, text out. Pure, and told nothing of stones.

Every figure is drawn by `draw(record, prefix)`. It obeys a page that forbids inline style, says in
words what is seen, and leaves its ink to the page (`currentColor`); the few rules that a page adds
stand in its sheet `figures.css`.
"""
