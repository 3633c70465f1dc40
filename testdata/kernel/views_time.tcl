# Writes how long the independent geometry kernel takes for the visible lines of the
# shapes of views_bodies.tcl, from the seven directions of views.tcl, and of two
# larger ones: a line each with the name and milliseconds for all directions, the
# best of three. views_time.sh runs it, and the same views by publish/view.

pload MODELING

proc record {name} {
	global shape
	set best 1e9
	for {set n 0} {$n < 3} {incr n} {
		set start [clock microseconds]
		foreach {x y z ux uy uz} {1 -1 1 0 0 1  0 -1 0 0 0 1  0 1 0 0 0 1  1 0 0 0 0 1  0 0 1 0 1 0  0.3 -0.8 0.5 0 0 1  -0.7 -0.4 -0.6 0 0 1} {
			uplevel #0 [list hlrin2d seen shape $x $y $z $ux $uy $uz]
		}
		set took [expr ([clock microseconds] - $start) / 1000.0]
		if {$took < $best} {set best $took}
	}
	puts "kernel $name $best ms"
}

source views_bodies.tcl

# A plate with fifty holes.
box shape 500 260 12
for {set i 0} {$i < 10} {incr i} {
	for {set j 0} {$j < 5} {incr j} {
		cyl c [expr 25 + 50 * $i] [expr 30 + 50 * $j] -1 0 0 1 4.5 14
		cut c
	}
}
record plate50

# A hundred rods on a plate, bodies of their own.
box p 300 300 10
set all {p}
for {set i 0} {$i < 10} {incr i} {
	for {set j 0} {$j < 10} {incr j} {
		cyl r$i$j [expr 15 + 30 * $i] [expr 15 + 30 * $j] 10 0 0 1 6 40
		lappend all r$i$j
	}
}
eval compound $all shape
record rods100
exit
