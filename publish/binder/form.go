package binder

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"plansheaf/design/memo"
	"plansheaf/publish/picture"
)

// A form is a picture as the file holds it, once, however often it is shown (ISO 32000-1,
// 8.10). It does not know where it stands.
type form struct {
	Name          string  // from what it holds
	Width, Height float64 // points
	Data          []byte  // compressed
	Letters       picture.Letters
}

// keyring holds the keys of pictures, since they are long to work out; without a store nil.
type keyring map[*picture.Picture]memo.Key

func newKeyring(kept *memo.Store) keyring {
	if kept == nil {
		return nil
	}
	return keyring{}
}

// of is a picture's key.
func (k keyring) of(p *picture.Picture) memo.Key {
	if k == nil {
		return memo.Key{} // nobody asks
	}
	key, known := k[p]
	if !known {
		key = p.MemoKey()
		k[p] = key
	}
	return key
}

// form is a picture at a scale as a form, taken over where it is known.
func (p *painter) form(drawing *picture.Picture, scale float64) (*form, error) {
	f, err := memo.Do(p.kept, "binder.form", func() (form, error) {
		drawn, err := picture.PDF(drawing, scale)
		if err != nil {
			return form{}, err
		}
		sum := sha256.Sum256(fmt.Appendf(nil, "%v %v %s", drawn.Width, drawn.Height, drawn.Content))
		return form{
			Name: "P" + hex.EncodeToString(sum[:10]), Width: drawn.Width, Height: drawn.Height,
			Data: p.deflater.deflated(drawn.Content), Letters: drawn.Letters,
		}, nil
	}, p.keys.of(drawing), scale)
	return &f, err
}

// A deflater compresses one stream after another; its tables are large.
type deflater struct{ z *zlib.Writer }

// deflated is data compressed, with little effort.
func (d *deflater) deflated(data []byte) []byte {
	var out bytes.Buffer
	if d.z == nil {
		d.z, _ = zlib.NewWriterLevel(&out, zlib.BestSpeed) // a level that it has
	} else {
		d.z.Reset(&out)
	}
	// A buffer takes all.
	_, _ = d.z.Write(data)
	_ = d.z.Close()
	return out.Bytes()
}
