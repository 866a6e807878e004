"""Drawings of what is made: plain values in, a `workshop.drawings.Drawing` out; no database, no request."""
