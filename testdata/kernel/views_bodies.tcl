# The shapes of views.tcl and views_time.tcl. For each the procedure record is
# called with its name, the shape in the variable shape. Millimetres.

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
