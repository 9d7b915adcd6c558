#!/bin/sh
# A few of the moments that `make trouble` goes through one by one.
exec "$(dirname "$0")/../trouble/memory" 8
