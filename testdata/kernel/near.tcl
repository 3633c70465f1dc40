# Makes near.csv: how far pairs of placed bodies are apart, and the volume that
# they share, worked out by an independent geometry kernel. The tests of
# design/solid/proximity build the same bodies.
#
# Run in this folder:  occt-draw -b -f near.tcl
# Needs the Debian packages occt-draw and libocct-draw-dev (tried with 7.6.3).
# Millimetres and cubic millimetres.

pload MODELING

set out [open near.csv w]
puts $out "name,distance,overlap"

# record writes one line for the bodies in the variables a and b.
proc record {name} {
	global out a b dst_val
	distmini dst a b
	set d [lindex [dval dst_val] 0]
	set v 0
	bcommon c a b
	if {[llength [explode c So]] > 0} {
		regexp {Mass :\s+(\S+)} [vprops c 1e-10 -full] - v
	}
	puts $out "$name,$d,$v"
}

# cyl and con make a cylinder and a cone from a point along a direction.
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

box a 0 0 0 10 20 30
box b 14 23 18 8 8 8
record box_box

box a 0 0 0 10 20 30
box b 0 0 0 8 8 8
trotate b 0 0 0 1 2 3 40
ttranslate b 19 9 8
record box_turned_box

cyl a 0 0 0 0 0 1 5 40
cyl b 15 -20 10 1 3 1 4 50
record rod_slanted_rod

cyl a 0 0 0 0 0 1 5 40
cyl b 12 6 30 2 1 2 3 30
record rod_end_of_rod

con a 0 0 0 0 0 1 12 3 25
cyl b 15 -30 24 0 1 -0.1 4 60
record cone_rod

con a 0 0 0 0 0 1 12 0 25
con b 9 5 40 -0.2 0.1 -1 8 0 14
record cone_cone

box a 0 0 0 60 40 8
cyl b 20 15 -5 0.3 0.2 1 6 30
record plate_slanted_rod

cyl a 0 0 0 0 0 1 10 40
cyl b -20 3 20 1 0 0 6 40
record rod_cross_rod

con a 0 0 0 0 0 1 12 3 25
box b -4 2 5 20 20 6
record cone_box

cyl o 0 0 0 0 0 1 20 30
cyl i 0 0 -1 0 0 1 14 32
bcut a o i
cyl b 3 2 -10 0.02 -0.03 1 8 50
record bore_tilted_rod

close $out
