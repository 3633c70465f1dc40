#!/bin/sh
# How long the visible lines of recorded shapes take: the independent kernel and
# publish/view, one after the other in one run, milliseconds for seven directions.
# The kernel finds what is seen; publish/view what is seen and what is hidden, on
# one processor.
#
# Run in this folder:  sh views_time.sh
# Needs occt-draw (see views.tcl) and Go.
set -e
occt-draw -b -f views_time.tcl | grep '^kernel'
cd ../../publish/view
GOMAXPROCS=1 go test -run '^$' -bench KernelCases -benchtime 20x -count 3 . | awk '
	/^BenchmarkKernelCases/ {
		split($1, name, "/"); sub(/-[0-9]+$/, "", name[2])
		if (!(name[2] in best) || $3 < best[name[2]]) best[name[2]] = $3
	}
	END { for (n in best) printf "view %s %.3f ms\n", n, best[n] / 1e6 }' | sort
