# Makes views.csv: the summed length of the visible lines (edges and outlines) of
# shapes that the tests of publish/view draw too, each from several directions,
# worked out by an independent geometry kernel.
#
# The shapes stand in views_bodies.tcl; views_time.tcl measures how long they take.
#
# Run in this folder:  occt-draw -b -f views.tcl
# Needs the Debian packages occt-draw and libocct-draw-dev (tried with 7.6.3).
# Numbers are millimetres. A direction points from the shape to the eye; z is up,
# or y where one looks along z.

pload MODELING

set out [open views.csv w]
puts $out "name,x,y,z,ux,uy,uz,visible"

# drawn returns the length of an edge. A circle seen from its edge has no curve
# that lprops could measure, but then runs along x or y: its box, which is 1e-7
# wider on each side, tells its length.
proc drawn {edge} {
	lassign [uplevel #0 [list bounding $edge -noTriangulation]] x0 y0 z0 x1 y1 z1
	set w [expr $x1 - $x0 - 2e-7]
	set h [expr $y1 - $y0 - 2e-7]
	if {$w < 1e-6} {return $h}
	if {$h < 1e-6} {return $w}
	regexp {Mass\s*:\s*(\S+)} [uplevel #0 [list lprops $edge 1e-10 -full]] - l
	return $l
}

# record writes a line for each direction of the shape in the variable shape, but
# for those in which the kernel cannot measure an edge.
proc record {name} {
	global out shape
	foreach {x y z ux uy uz} {1 -1 1 0 0 1  0 -1 0 0 0 1  0 1 0 0 0 1  1 0 0 0 0 1  0 0 1 0 1 0  0.3 -0.8 0.5 0 0 1  -0.7 -0.4 -0.6 0 0 1} {
		uplevel #0 [list hlrin2d seen shape $x $y $z $ux $uy $uz]
		set sum 0
		set whole 1
		foreach s [uplevel #0 explode seen e] {
			if {[catch {drawn $s} l]} {set whole 0; break}
			set sum [expr $sum + $l]
		}
		if {$whole} {puts $out "$name,$x,$y,$z,$ux,$uy,$uz,$sum"}
	}
}

source views_bodies.tcl

close $out
exit
