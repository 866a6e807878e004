"""From runs of trim to pieces, strips and rough boards, and which piece comes from which board."""
