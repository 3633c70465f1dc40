package themes

import _ "embed"

// The fonts that every output is lettered in: DejaVu Sans and DejaVu Sans Mono,
// whose coverage of Latin, Greek, Cyrillic and drawing signs is complete but for
// the few that package picture draws itself. Terms: fonts/LICENSE.txt.
//
// The slices are shared. Clone one before handing it to anything that may write
// into it: gofpdf does.
var (
	//go:embed fonts/DejaVuSans.ttf
	Sans []byte
	//go:embed fonts/DejaVuSans-Bold.ttf
	SansBold []byte
	//go:embed fonts/DejaVuSans-Oblique.ttf
	SansOblique []byte
	//go:embed fonts/DejaVuSans-BoldOblique.ttf
	SansBoldOblique []byte
	//go:embed fonts/DejaVuSansMono.ttf
	Mono []byte
	//go:embed fonts/DejaVuSansMono-Bold.ttf
	MonoBold []byte
	// FontLicense is the text under which the fonts may be passed on.
	//go:embed fonts/LICENSE.txt
	FontLicense []byte
)
