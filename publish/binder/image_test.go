package binder

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
)

func TestDevelopRefuses(t *testing.T) {
	whole := photograph("png", 40, 30)
	huge := append([]byte(nil), whole...)
	// A header that claims 100,000 by 100,000 pixels, with its checksum right.
	binary.BigEndian.PutUint32(huge[16:], 100000)
	binary.BigEndian.PutUint32(huge[20:], 100000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	for _, test := range []struct {
		name string
		data []byte
		want string
	}{
		{name: "nothing", want: "no picture"},
		{name: "vector", data: []byte("<svg/>"), want: "no picture"},
		{name: "cut short", data: whole[:len(whole)/2], want: "damaged"},
		{name: "too many pixels", data: huge, want: "40 million"},
	} {
		t.Run(test.name, func(t *testing.T) {
			d := newDarkroom(nil)
			for range 2 {
				if _, err := d.develop(test.data); err == nil || !strings.Contains(err.Error(), strings.TrimPrefix(test.want, "no ")) {
					t.Errorf("got %v, want %q", err, test.want)
				}
			}
		})
	}
}

func TestDevelopFlattensAndReduces(t *testing.T) {
	d := newDarkroom(nil)
	r, err := d.develop(photograph("png", 2600, 20))
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(r.Data))
	if err != nil {
		t.Fatal(err)
	}
	if w := img.Bounds().Dx(); w != longestSide || r.Width != 2600 {
		t.Errorf("%d pixels kept of %d", w, r.Width)
	}
	if r.Data[25] != 2 || r.Data[24] != 8 || r.Data[28] != 0 {
		t.Errorf("colour type %d, %d bits, interlace %d; want 8-bit RGB", r.Data[25], r.Data[24], r.Data[28])
	}
}

// TestOrientation: the eight orientations of CIPA DC-008 (EXIF), tag 0x0112. The
// test image has its first row's first pixel marked.
func TestOrientation(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 3, 2))
	red := color.RGBA{255, 0, 0, 255}
	img.SetRGBA(0, 0, red)
	for _, test := range []struct{ orientation, w, h, x, y int }{
		{1, 3, 2, 0, 0}, {2, 3, 2, 2, 0}, {3, 3, 2, 2, 1}, {4, 3, 2, 0, 1},
		{5, 2, 3, 0, 0}, {6, 2, 3, 1, 0}, {7, 2, 3, 1, 2}, {8, 2, 3, 0, 2}, {9, 3, 2, 0, 0},
	} {
		got := turned(img, test.orientation)
		if got.Bounds().Dx() != test.w || got.Bounds().Dy() != test.h || got.RGBAAt(test.x, test.y) != red {
			t.Errorf("orientation %d: %v, marked pixel not at %d, %d", test.orientation, got.Bounds(), test.x, test.y)
		}
	}
	for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
		if got := orientation(exif(t, order, 6)); got != 6 {
			t.Errorf("%v: orientation %d read, want 6", order, got)
		}
	}
	if got := orientation([]byte{0xFF, 0xD8, 0xFF, 0xE1, 0, 20, 'E', 'x', 'i', 'f'}); got != 1 {
		t.Errorf("a segment cut short gave %d", got)
	}
}

// exif is a JPEG file with an orientation.
func exif(t *testing.T, order binary.AppendByteOrder, value uint16) []byte {
	t.Helper()
	mark := "II"
	if order == binary.AppendByteOrder(binary.BigEndian) {
		mark = "MM"
	}
	tiff := order.AppendUint16([]byte(mark), 42)
	tiff = order.AppendUint32(tiff, 8)
	tiff = order.AppendUint16(tiff, 1)
	tiff = order.AppendUint16(tiff, 0x0112)
	tiff = order.AppendUint16(tiff, 3)
	tiff = order.AppendUint32(tiff, 1)
	tiff = order.AppendUint16(tiff, value)
	tiff = append(tiff, 0, 0, 0, 0, 0, 0)
	segment := append([]byte("Exif\x00\x00"), tiff...)
	head := binary.BigEndian.AppendUint16([]byte{0xFF, 0xD8, 0xFF, 0xE1}, uint16(len(segment)+2))
	var body bytes.Buffer
	if err := jpeg.Encode(&body, image.NewRGBA(image.Rect(0, 0, 4, 2)), nil); err != nil {
		t.Fatal(err)
	}
	return append(append(head, segment...), body.Bytes()[2:]...)
}

func TestTurnedPhotographIsUpright(t *testing.T) {
	r, err := newDarkroom(nil).develop(exif(t, binary.BigEndian, 6))
	if err != nil {
		t.Fatal(err)
	}
	if r.Width != 2 || r.Height != 4 {
		t.Errorf("%d by %d, want 2 by 4", r.Width, r.Height)
	}
}
