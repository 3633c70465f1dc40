package scene

// tileSide is how many cells a tile has along each side: the bits of a word.
const tileSide = 64

// cells is a set of cells of the paper, which may lie anywhere: in tiles, of which few are
// met, the same one again and again.
type cells struct {
	tiles map[[2]int]*[tileSide]uint64
	at    [2]int // the tile that was met last
	tile  *[tileSide]uint64
}

// split is a coordinate as that of a tile and the place within it.
func split(v int) (tile, within int) { return v >> 6, v & (tileSide - 1) }

// find makes the tile the one that was met last.
func (s *cells) find(x, y int) {
	if at := [2]int{x, y}; s.tile == nil || at != s.at {
		s.at, s.tile = at, s.tiles[at]
	}
}

func (s *cells) add(x, y int) {
	column, bit := split(x)
	row, line := split(y)
	if s.find(column, row); s.tile == nil {
		if s.tiles == nil {
			s.tiles = map[[2]int]*[tileSide]uint64{}
		}
		s.tile = new([tileSide]uint64)
		s.tiles[s.at] = s.tile
	}
	s.tile[line] |= 1 << bit
}

func (s *cells) has(x, y int) bool {
	column, bit := split(x)
	row, line := split(y)
	s.find(column, row)
	return s.tile != nil && s.tile[line]>>bit&1 != 0
}
