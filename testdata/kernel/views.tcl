# Makes views.csv: the summed length of the visible lines (edges and outlines) of
# shapes that the tests of publish/view draw too, each from several directions,
# worked out by an independent geometry kernel.
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

proc cyl {n x y z dx dy dz r h} {
	global pl $n
	plane pl $x $y $z $dx $dy $dz
	pcylinder $n pl $r $h
}
proc con {n x y z dx dy dz r1 r2 h} {
	global pl $n
	plane pl $x $y $z $dx $dy $dz
	pcone $n pl $r1 $r2 $h
}
# fuse, cut: change the variable shape by another solid.
proc fuse {n} { global shape $n; bfuse shape shape $n }
proc cut {n} { global shape $n; bcut shape shape $n }

box shape 100 60 10
cyl c 20 30 -10 0 0 1 4 30
cut c
record plate_hole

box shape 60 40 8
box b 8 40 50
fuse b
cyl c 40 20 -1 0 0 1 4.5 20
cut c
cyl c -1 20 32 1 0 0 6 20
cut c
unifysamedom shape shape
record bracket

box a 0 20 0 60 10 40
cyl b 30 5 5 0 0 1 6 30
compound a b shape
record rod_before_box

box shape 50 40 30
cyl b 25 20 15 0 0 1 5 20
cut b
con b 25 20 25 0 0 1 5 10 5
cut b
cyl b -1 20 20 1 0 0 4 52
cut b
record drilled_block

cyl shape 15 0 15 0 1 0 15 50
cyl b 15 0 15 0 1 0 10 50
cut b
cyl b 15 25 15 0 0 1 4 20
cut b
record pipe

box shape 40 40 10
con b 20 20 10 0 0 1 10 4 20
fuse b
cyl b 20 20 30 0 0 1 4 12
fuse b
record peg

close $out
exit
