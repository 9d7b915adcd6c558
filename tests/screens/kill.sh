#!/bin/sh
# A few of the kills that `make fuzz-kill` does by the hundred.
exec "$(dirname "$0")/../fuzz/kill" 10 3
