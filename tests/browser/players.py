"""What tests of the sound player look for in a page: its buttons, its trace, its cursor."""

from __future__ import annotations


def button(player, name):
    return player.get_by_role("button", name=name)


def drawn(player):
    player.page.wait_for_function(
        "() => document.querySelector('[data-trace] img').naturalWidth > 0"
    )


def line_in_window(player):
    """Where the cursor stands in the window on the trace: 0 its left edge, 1 its right."""
    return player.page.evaluate("""() => {
      const box = (one) => document.querySelector(one).getBoundingClientRect();
      const [view, line] = [box('[data-trace]'), box('.player__cursor')];
      return (line.left - view.left) / view.width;
    }""")
