"""Whether two trees are the same in structure, order, literals and names."""

from __future__ import annotations

from typing import Any

__all__ = ["same_tree"]


def same_tree(left: Any, right: Any) -> bool:
    """Say whether two nodes are equal in structure; names are equal when they are one node."""
    pending = [(left, right)]
    while pending:
        left, right = pending.pop()
        if left is right:
            continue
        if left.__class__ is not right.__class__:
            return False
        if left.op == "name":
            if not left.same_name(right):
                return False
            continue
        if left.op != right.op or left.data != right.data or len(left.args) != len(right.args):
            return False
        pending.extend(zip(left.args, right.args, strict=True))
    return True
