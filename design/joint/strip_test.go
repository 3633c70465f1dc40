package joint

import (
	"math"
	"testing"
)

// A handbook's worked example: an M10 screw that bears 69 600 N (1200 MPa on 58 mm²) strips
// no thread in aluminium 310, shear strength 130 MPa, from 21.6 mm of engagement on
// (Handbook of mechanical alloy and fastener design, CRC Press, chapter on thread
// engagement; by the areas of ASME B1.13M for least material). The simple share used here
// asks for 5 % more.
func TestEngagementThatStripsNothing(t *testing.T) {
	const load, shear, published = 69600.0, 130.0, 21.6
	got := load / (math.Pi * 10 * threadShare * shear)
	if got < published || got > 1.06*published {
		t.Errorf("%.1f mm of thread, published %g", got, published)
	}
}
