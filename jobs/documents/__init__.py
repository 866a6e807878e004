"""Documents of a job on paper: plain values in, bytes out; no database, no request."""
