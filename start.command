#!/bin/sh
# Start mosaickit by a double click (macOS, and Linux file managers that run scripts): JupyterLab on the first notebook.
cd "$(dirname "$0")" || exit 1
for python in python3.14 python3.13 python3.12 python3.11 python3 python; do
  if "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; then
    "$python" start.py "$@"
    ended=$?
    break
  fi
done
if [ -z "$ended" ]; then
  echo "mosaickit needs Python 3.11 or newer, and none was found here. Install it from python.org, then start again."
  ended=2
fi
if [ "$ended" -ne 0 ] && [ -t 0 ]; then
  printf 'Press Enter to close this window. '
  read -r _
fi
exit "$ended"
