# Makes kernel.csv: volume, area, centre and inertia of shapes that the tests of
# design/solid build too, worked out by an independent geometry kernel.
#
# Run in this folder:  occt-draw -b -f shapes.tcl
# Needs the Debian packages occt-draw and libocct-draw-dev (tried with 7.6.3).
# Numbers are millimetres; inertia is about the centre of mass for density 1,
# moments on the diagonal, negative products of inertia beside it.

pload MODELING

set out [open kernel.csv w]
puts $out "name,volume,area,cx,cy,cz,ixx,ixy,ixz,iyy,iyz,izz"

# record writes one line for the solid in the variable shape.
proc record {name} {
	global out shape
	set v [vprops shape 1e-10 -full]
	set a [sprops shape 1e-10 -full]
	regexp {Mass :\s+(\S+)} $v - volume
	regexp {Mass :\s+(\S+)} $a - area
	regexp {X =\s+(\S+)\s+Y =\s+(\S+)\s+Z =\s+(\S+)} $v - x y z
	regexp {Matrix of Inertia :\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)} $v - a11 a12 a13 a21 a22 a23 a31 a32 a33
	puts $out "$name,$volume,$area,$x,$y,$z,$a11,$a12,$a13,$a22,$a23,$a33"
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
proc blk {n x y z dx dy dz} {
	global $n
	box $n $x $y $z $dx $dy $dz
}
proc cut {args} {
	global shape
	foreach tool $args { global $tool; bcut shape shape $tool }
}
proc join {args} {
	global shape
	foreach member $args { global $member; bfuse shape shape $member }
}
# slot cuts a straight slot with round ends, of profile radii r at the mouth and q
# at the floor: its ends lie at a and b, the way from mouth to floor is d long
# along n, and half of the straight part's cross-section is across w.
proc slot {ax ay az bx by bz nx ny nz d wx wy wz r q} {
	global shape p0 w f s e1 e2
	foreach {n x y z} [list e1 $ax $ay $az e2 $bx $by $bz] {
		if {$r == $q} { cyl $n $x $y $z $nx $ny $nz $r $d } else { con $n $x $y $z $nx $ny $nz $r $q $d }
	}
	set cmd [list polyline w]
	foreach {k h} [list $r 0 $q $d -$q $d -$r 0 $r 0] {
		lappend cmd [expr $ax+$k*$wx+$h*$nx] [expr $ay+$k*$wy+$h*$ny] [expr $az+$k*$wz+$h*$nz]
	}
	eval $cmd
	mkplane f w
	prism s f [expr $bx-$ax] [expr $by-$ay] [expr $bz-$az]
	cut e1 e2 s
}
# poly makes a prism of length h along z over a polygon.
proc poly {n points h} {
	global $n w f
	set cmd [list polyline w]
	foreach p $points { lappend cmd [lindex $p 0] [lindex $p 1] 0 }
	lappend cmd [lindex [lindex $points 0] 0] [lindex [lindex $points 0] 1] 0
	eval $cmd
	mkplane f w
	prism $n f 0 0 $h
}

# wedge makes a prism over a polygon in the plane across an axis, x y or z, that reaches
# from one place on it to another; the polygon's coordinates are those of the other two.
proc wedge {n axis from to points} {
	global $n w f
	set cmd [list polyline w]
	foreach p [concat $points [list [lindex $points 0]]] {
		set at [linsert $p [string first $axis xyz] $from]
		eval lappend cmd $at
	}
	eval $cmd
	mkplane f w
	set way {0 0 0}
	lset way [string first $axis xyz] [expr $to-$from]
	eval prism $n f $way
}

# plane-faced
blk shape 0 0 0 100 60 40; blk t 50 30 20 100 60 40; cut t; record boxes_cut
blk shape 0 0 0 100 60 40; blk t 50 30 20 100 60 40; join t; record boxes_joined
poly shape {{0 0} {60 0} {80 30} {40 25} {10 50}} 12; record prism
set pts {}
foreach q {0 1 2 3} {
	foreach p {{11 0} {11 2} {7 2} {7 5.2} {11 9.2} {19 9.2} {23 5.2} {23 2} {19 2} {19 0} {30 0}} {
		set x [expr [lindex $p 0]-15]; set y [expr [lindex $p 1]-15]
		for {set k 0} {$k < $q} {incr k} { set s $x; set x [expr -$y]; set y $s }
		lappend pts [list [expr $x+15] [expr $y+15]]
	}
}
poly profile $pts 200
tcopy profile shape; record slotted_no_core

# holes in plates
blk shape 0 0 0 100 60 10; cyl t 20 30 -1 0 0 1 4 12; cut t; record plate_hole
blk shape 0 0 0 100 60 20
cyl a 20 30 -1 0 0 1 4.5 22; cyl b 20 30 12 0 0 1 7.5 9; cut a b
cyl a 50 30 -1 0 0 1 4 22; con b 50 30 16 0 0 1 4 8 4; cut a b
cyl a 80 30 5 0 0 1 3.4 16; con b 80 30 5 0 0 -1 3.4 0 [expr 3.4/tan(59*acos(-1)/180)]; cut a b
record plate_three_holes
blk shape 0 0 0 100 60 10; cyl a 0 0 -1 0 0 1 5 12; cyl b 100 30 -1 0 0 1 6 12; cyl c 50 2 -1 0 0 1 4 12; cut a b c; record plate_edge_holes
blk shape 0 0 0 100 60 20; cyl a 50 30 -1 0 0 1 6 22; cyl b -1 30 10 1 0 0 4 60; cut a b; record plate_meeting_holes
blk shape 0 0 0 100 60 20; cyl a 50 30 -1 0 0 1 6 22; cyl b -1 33 12 1 0 0 4 102; cut a b; record plate_offset_holes
blk shape 0 0 0 100 60 10; cyl a 5 30 -1 0 0 1 2.5 12; con b 5 30 6.5 0 0 1 2.5 6 3.5; cut a b; record plate_sink_over_edge
blk shape 0 0 0 100 60 10
blk a 40 26 -1 20 8 12; cyl b 40 30 -1 0 0 1 4 12; cyl c 60 30 -1 0 0 1 4 12; cut a b c
blk a 40 24 6 20 12 5; cyl b 40 30 6 0 0 1 6 5; cyl c 60 30 6 0 0 1 6 5; cut a b c
record plate_slot
blk shape 0 0 0 100 60 10
slot 40 30 11 60 30 11 0 0 -1 12 0 1 0 4 4; slot 40 30 10 60 30 10 0 0 -1 3 0 1 0 7 4; record plate_sunk_slot
blk shape 0 0 0 100 60 10
slot 40 4.5 11 60 4.5 11 0 0 -1 12 0 1 0 4 4; slot 40 4.5 10 60 4.5 10 0 0 -1 3 0 1 0 7 4; record plate_sunk_slot_over_edge
blk shape 0 0 0 100 60 20
cyl a 50 30 -1 0 0 1 6 22; con b 50 30 20 0 0 -1 12 6 6; cyl c -1 34 15 1 0 0 4 102
cyl d 57 -1 9 0 1 0 3 41; con e 57 40 9 0 1 0 3 0 [expr 3/tan(59*acos(-1)/180)]; cyl g 57 -1 9 0 1 0 5.5 6
cut a b c d e g; record plate_sinks_meeting

# round bars and tubes
cyl shape 0 6 6 1 0 0 6 100; cyl a 20 6 -1 0 0 1 2 14; cut a; record rod_cross_hole
cyl shape 0 6 6 1 0 0 6 100; cyl a 20 8 -1 0 0 1 3 14; cut a; record rod_offset_hole
cyl shape 0 6 6 1 0 0 6 100; cyl a 20 -1 6 0 1 0 2.5 14; cyl b 20 -1 6 0 1 0 4 1; con c 20 0 6 0 1 0 4 2.5 1.5; cut a b c; record rod_sunk_hole
cyl shape 0 15 15 1 0 0 15 100; cyl t -1 15 15 1 0 0 12 102; cut t
cyl a 20 15 -1 0 0 1 4 32; cyl b 70 15 -1 0 0 1 4 32; cyl c 70 -1 15 0 1 0 4 32; cyl d 45 20 15 0 0 1 5 32; cut a b c d
record tube_holes
cyl shape 0 15 15 1 0 0 15 100; cyl t -1 15 15 1 0 0 12 102; cut t
slot 30 15 31 50 15 31 0 0 -1 32 0 1 0 3 3; slot 30 15 31 50 15 31 0 0 -1 1 0 1 0 4.5 4.5; slot 30 15 30 50 15 30 0 0 -1 1.5 0 1 0 4.5 3
record tube_sunk_slot
cyl shape 0 0 -50 0 0 1 15 100; cyl a -50 0 0 1 0 0 15 100; cut a; record equal_cylinders_cut
cyl shape 0 0 -50 0 0 1 15 100; cyl a -50 0 0 1 0 0 15 100; join a; record equal_cylinders_joined
cyl shape 0 0 -50 0 0 1 15 100; cyl a -50 12 0 1 0 0 5 100; join a; record cylinders_joined
cyl shape 0 0 -50 0 0 1 15 100; cyl a -30 -9 -40 3 1 4 5 100; cut a; record slanted_cylinder_cut
blk shape 0 0 0 100 60 40; cyl a 30 20 -20 2 1 4 6 100; cut a; record slanted_hole

# cones
cyl shape 0 0 -50 0 0 1 15 100; con a -30 4 10 1 0 0 10 2 40; cut a; record cone_into_cylinder
con shape 0 0 0 0 0 1 20 5 40; con a -30 3 12 1 0 0 8 3 60; cut a; record cone_through_cone
con shape 0 0 0 0 0 1 20 5 40; blk a 3 -30 -1 40 60 50; cut a; record cone_cut_flat
con shape 0 0 0 0 0 1 20 0 40; cyl a 2 3 -1 0 0 1 4 50; cut a; record cone_drilled

# bars
blk shape 0 0 0 100 40 20; blk t -1 2 2 102 36 16; cut t
cyl a 30 20 10 0 0 1 4 11; cyl b 60 -1 10 0 1 0 4 42; cyl c 100 20 10 0 0 1 4 11; cut a b c
record box_tube_holes
blk shape 0 0 0 100 40 30; blk t -1 5 5 102 40 30; cut t
cyl a 30 -1 18 0 1 0 3 7; con b 30 0 18 0 1 0 6 3 3; cut a b
slot 60 20 -1 60 30 -1 0 0 1 7 1 0 0 3 3; slot 60 20 0 60 30 0 0 0 1 2 1 0 0 5 3
cyl a 75 -1 5 0 1 0 2.5 42; cut a; record angle_sunk_holes
tcopy profile shape; cyl a 15 15 -1 0 0 1 3.4 202; cut a
cyl b -1 15 60 1 0 0 4.5 32; cyl c 15 -1 120 0 1 0 3.5 32; cyl d -1 15 140 1 0 0 7.5 9; cyl e -1 15 140 1 0 0 4.5 32; cut b c d e
record slotted_holes
tcopy profile shape; cyl a 15 15 -1 0 0 1 3.4 202; cut a
slot -1 15 52.5 -1 15 67.5 1 0 0 32 0 1 0 4.5 4.5; slot -1 15 52.5 -1 15 67.5 1 0 0 9 0 1 0 6.5 6.5
slot 10 -1 120 20 -1 120 0 1 0 32 0 0 1 4.5 4.5; slot 10 0 120 20 0 120 0 1 0 1 0 0 1 5.5 4.5
cyl d -1 15 120 1 0 0 5 32; cut d; record slotted_sunk_slots

# mitred bars: of ends at 45, 30 and 22.5 degrees
set t30 [expr tan(acos(-1)/6)]; set t22 [expr tan(acos(-1)/8)]
blk shape 0 0 0 200 40 20; blk t -1 2 2 202 36 16; cut t
wedge a z -1 21 {{-5 -5} {45 45} {-5 45}}; wedge b z -1 21 [list [list [expr 200-45*$t30] -5] {300 -5} {300 45} [list [expr 200+5*$t30] 45]]; cut a b
record mitred_box
cyl shape 0 15 15 1 0 0 15 200; cyl t -1 15 15 1 0 0 12 202; cut t
wedge a y -1 31 {{-5 -5} {45 45} {-5 45}}; cut a; cyl b 100 15 -1 0 0 1 4 32; cyl c 20 -1 15 0 1 0 4 32; cut b c
record mitred_tube
tcopy profile shape; cyl a 15 15 -1 0 0 1 3.4 202; cut a
wedge b y -1 31 {{-5 -5} {45 45} {45 -5}}; wedge c x -1 31 [list [list -5 [expr 200-35*$t22]] [list 35 [expr 200+5*$t22]] {35 300} {-5 300}]; cut b c
record mitred_slotted

# groups
blk shape 0 0 0 42.3 42.3 60; cyl a 21.15 21.15 60 0 0 1 11 2; cyl b 21.15 21.15 62 0 0 1 2.5 22; join a b; record motor
cyl shape 15 15 0 0 0 1 15 40; cyl a 15 15 10 0 0 1 4.2 30; cut a; record knob
cyl shape 0 10 10 1 0 0 10 10; cyl a 10 10 10 1 0 0 6 30; con b 40 10 10 1 0 0 6 4 5; cyl c 45 10 10 1 0 0 4 10; join a b c
cyl d 25 10 -1 0 0 1 1.5 22; cut d; record turned_cross_hole
blk shape 0 0 0 100 60 25
blk a 33 15 10 34 30 20; blk b 25 23 10 50 14 20; cut a b
cyl a 33 23 10 0 0 1 8 20; cyl b 67 23 10 0 0 1 8 20; cyl c 67 37 10 0 0 1 8 20; cyl d 33 37 10 0 0 1 8 20; cut a b c d
cyl a 30 -1 16 0 1 0 4.5 31; con b 30 0 16 0 1 0 7 4.5 2.5; cut a b
slot -1 36 12 -1 44 12 1 0 0 102 0 0 1 3 3; record pocket_meets_holes

close $out
