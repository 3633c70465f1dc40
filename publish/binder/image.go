package binder

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	_ "image/gif" // decoders for what authors bring
	"image/jpeg"
	"image/png"
	"math"

	"golang.org/x/image/draw"
	_ "golang.org/x/image/webp" // decoder

	"plansheaf/design/memo"
)

// Limits on images: the pixels that are decoded at all, and the longest side
// that is kept, 300 dots an inch across a leaf.
const (
	mostPixels  = 40_000_000
	longestSide = 2100
	jpegQuality = 86
)

// A raster is an image encoded anew for gofpdf, which panics on some of what
// image files may hold and takes others half.
type raster struct {
	Name          string // from its content
	Kind          string // "PNG" or "JPG"
	Data          []byte
	Width, Height int // as shown, before being made smaller
}

// A darkroom decodes each image once.
type darkroom struct {
	kept  *memo.Store
	known map[[32]byte]*raster
	bad   map[[32]byte]error
	left  int // pixels that may still be decoded in this binder
}

// allPixels is how many pixels one binder decodes in all.
const allPixels = 600_000_000

func newDarkroom(kept *memo.Store) *darkroom {
	return &darkroom{kept, map[[32]byte]*raster{}, map[[32]byte]error{}, allPixels}
}

// develop decodes an image file within limits, turns it as its EXIF orientation
// says, lays transparency on white and encodes it anew: photographs as baseline
// JPEG, others as 8-bit RGB PNG.
func (d *darkroom) develop(data []byte) (*raster, error) {
	key := sha256.Sum256(data)
	if r := d.known[key]; r != nil {
		return r, nil
	}
	if err := d.bad[key]; err != nil {
		return nil, err
	}
	r, err := d.expose(data)
	if err != nil {
		d.bad[key] = err
		return nil, err
	}
	d.known[key] = r
	return r, nil
}

// expose develops an image that has room among those that one binder decodes; taken over
// where it is known.
func (d *darkroom) expose(data []byte) (r *raster, err error) {
	defer func() {
		if p := recover(); p != nil {
			r, err = nil, fmt.Errorf("cannot be decoded: %v", p)
		}
	}()
	config, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, errors.New("is not a picture that the binder prints (PNG, JPEG, GIF or WebP)")
	}
	pixels := int64(config.Width) * int64(config.Height)
	if config.Width <= 0 || config.Height <= 0 || pixels > mostPixels {
		return nil, fmt.Errorf("has %d by %d pixels; at most %d million are printed", config.Width, config.Height, mostPixels/1_000_000)
	}
	if d.left -= int(pixels); d.left < 0 {
		return nil, errors.New("comes after more pixels than one binder prints")
	}
	one, err := memo.Do(d.kept, "binder.raster", func() (raster, error) { return developed(data, format) }, data)
	return &one, err
}

// developed is an image file as the binder holds it.
func developed(data []byte, format string) (r raster, err error) {
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return r, fmt.Errorf("is damaged: %w", err)
	}
	flat := flatten(img)
	if format == "jpeg" {
		flat = turned(flat, orientation(data))
	}
	r = raster{Width: flat.Bounds().Dx(), Height: flat.Bounds().Dy(), Kind: "PNG"}
	flat = smaller(flat)
	var out bytes.Buffer
	if format == "jpeg" {
		r.Kind = "JPG"
		err = jpeg.Encode(&out, flat, &jpeg.Options{Quality: jpegQuality})
	} else {
		// An opaque RGBA image is written as 8-bit RGB.
		err = (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, flat)
	}
	if err != nil {
		return r, fmt.Errorf("encode anew: %w", err)
	}
	r.Data = out.Bytes()
	// Two files may hold the same picture; gofpdf stores each once by name.
	content := sha256.Sum256(r.Data)
	r.Name = hex.EncodeToString(content[:])
	return r, nil
}

// flatten lays an image on white, without transparency.
func flatten(img image.Image) *image.RGBA {
	b := img.Bounds()
	flat := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(flat, flat.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(flat, flat.Bounds(), img, b.Min, draw.Over)
	return flat
}

// smaller reduces an image whose longer side has more pixels than paper shows.
func smaller(img *image.RGBA) *image.RGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	if max(w, h) <= longestSide {
		return img
	}
	k := float64(longestSide) / float64(max(w, h))
	out := image.NewRGBA(image.Rect(0, 0, max(1, int(math.Round(float64(w)*k))), max(1, int(math.Round(float64(h)*k)))))
	draw.ApproxBiLinear.Scale(out, out.Bounds(), img, img.Bounds(), draw.Src, nil)
	return out
}

// turned is the image as a camera with this EXIF orientation meant it.
func turned(img *image.RGBA, orientation int) *image.RGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	if orientation < 2 || orientation > 8 {
		return img
	}
	ow, oh := w, h
	if orientation >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range oh {
		for x := range ow {
			sx, sy := x, y
			switch orientation {
			case 2:
				sx = w - 1 - x
			case 3:
				sx, sy = w-1-x, h-1-y
			case 4:
				sy = h - 1 - y
			case 5:
				sx, sy = y, x
			case 6:
				sx, sy = y, h-1-x
			case 7:
				sx, sy = w-1-y, h-1-x
			case 8:
				sx, sy = w-1-y, x
			}
			out.SetRGBA(x, y, img.RGBAAt(sx, sy))
		}
	}
	return out
}

// orientation reads tag 0x0112 from a JPEG file's EXIF segment (CIPA DC-008);
// 1 when there is none.
func orientation(data []byte) int {
	for at := 2; at+4 <= len(data) && data[at] == 0xFF; {
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		if data[at+1] == 0xDA || size < 2 || at+2+size > len(data) {
			break
		}
		if segment := data[at+4 : at+2+size]; data[at+1] == 0xE1 && bytes.HasPrefix(segment, []byte("Exif\x00\x00")) {
			return tiffOrientation(segment[6:])
		}
		at += 2 + size
	}
	return 1
}

func tiffOrientation(tiff []byte) int {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	if tiff[0] == 'M' {
		order = binary.BigEndian
	}
	at := int64(order.Uint32(tiff[4:]))
	if at+2 > int64(len(tiff)) {
		return 1
	}
	entries := int64(order.Uint16(tiff[at:]))
	for i := range entries {
		entry := at + 2 + 12*i
		if entry+12 > int64(len(tiff)) {
			break
		}
		if order.Uint16(tiff[entry:]) == 0x0112 {
			return int(order.Uint16(tiff[entry+8:]))
		}
	}
	return 1
}
