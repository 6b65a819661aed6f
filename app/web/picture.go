package web

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	_ "image/png" // photos may be screenshots
	"io"
	"net/http"

	"golang.org/x/image/draw"
	_ "golang.org/x/image/webp" // and what browsers make
)

// Bounds on photos.
const (
	mostPixels = 50_000_000 // of what is sent: what a good phone takes
	longSide   = 2048       // of what is kept: enough to read a tape by
	quality    = 82
)

// errPicture says why a photo is not taken.
type errPicture struct{ why string }

func (e errPicture) Error() string { return e.why }

// picture decodes a photo and writes it anew as JPEG: upright, no larger than needed,
// and with nothing in it but the picture. What a phone wrote beside it (where it was
// taken, by which device) and whatever else somebody hid in the file is gone.
func picture(sent []byte) (data []byte, width, height int, err error) {
	kind := http.DetectContentType(sent)
	switch kind {
	case "image/jpeg", "image/png", "image/webp":
	default:
		return nil, 0, 0, errPicture{fmt.Sprintf("this is no photo (it looks like %s); JPEG, PNG and WebP are taken", kind)}
	}
	conf, _, err := image.DecodeConfig(bytes.NewReader(sent))
	if err != nil {
		return nil, 0, 0, errPicture{"the photo is damaged: " + err.Error()}
	}
	if conf.Width <= 0 || conf.Height <= 0 || conf.Width > mostPixels/conf.Height {
		return nil, 0, 0, errPicture{fmt.Sprintf("the photo has %d x %d points; at most %d million are taken", conf.Width, conf.Height, mostPixels/1_000_000)}
	}
	src, _, err := image.Decode(bytes.NewReader(sent))
	if err != nil {
		return nil, 0, 0, errPicture{"the photo is damaged: " + err.Error()}
	}
	turn := 1
	if kind == "image/jpeg" {
		turn = orientation(sent)
	}
	var out image.Image
	if y, ok := src.(*image.YCbCr); ok && turn == 1 && max(conf.Width, conf.Height) <= longSide {
		out = y // as the page sends it: only to be written anew
	} else {
		out = upright(shrunk(src), turn)
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, out, &jpeg.Options{Quality: quality}); err != nil {
		return nil, 0, 0, err
	}
	return buf.Bytes(), out.Bounds().Dx(), out.Bounds().Dy(), nil
}

// shrunk draws a picture on white, its long side no longer than is kept.
func shrunk(src image.Image) *image.RGBA {
	b := src.Bounds()
	w, h := b.Dx(), b.Dy()
	if long := max(w, h); long > longSide {
		w, h = max(1, w*longSide/long), max(1, h*longSide/long)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	if w == b.Dx() && h == b.Dy() {
		draw.Draw(out, out.Bounds(), src, b.Min, draw.Over)
	} else {
		draw.ApproxBiLinear.Scale(out, out.Bounds(), src, b, draw.Over, nil)
	}
	return out
}

// upright turns a picture as its Exif orientation says (Exif 2.32, tag 0x0112): 1 as
// it is, 2 mirrored, 3 upside down, 4 mirrored and upside down, 5 to 8 lying on its
// side.
func upright(p *image.RGBA, turn int) *image.RGBA {
	if turn < 2 || turn > 8 {
		return p
	}
	w, h := p.Rect.Dx(), p.Rect.Dy()
	ow, oh := w, h
	if turn >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range oh {
		for x := range ow {
			sx, sy := x, y
			switch turn {
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
			copy(out.Pix[out.PixOffset(x, y):][:4], p.Pix[p.PixOffset(sx, sy):][:4])
		}
	}
	return out
}

// orientation finds the Exif orientation of a JPEG; 1 where it has none.
func orientation(jpg []byte) int {
	r := bytes.NewReader(jpg[2:])
	for {
		var head [4]byte
		if _, err := io.ReadFull(r, head[:]); err != nil || head[0] != 0xff || head[1] == 0xda {
			return 1
		}
		n := int(binary.BigEndian.Uint16(head[2:])) - 2
		if n < 0 || n > r.Len() {
			return 1
		}
		seg := make([]byte, n)
		if _, err := io.ReadFull(r, seg); err != nil {
			return 1
		}
		if head[1] == 0xe1 && bytes.HasPrefix(seg, []byte("Exif\x00\x00")) {
			if o, err := tiffOrientation(seg[6:]); err == nil {
				return o
			}
			return 1
		}
	}
}

var errTIFF = errors.New("no orientation")

// tiffOrientation reads the tag from the first directory of Exif's TIFF.
func tiffOrientation(t []byte) (int, error) {
	if len(t) < 8 {
		return 0, errTIFF
	}
	var order binary.ByteOrder = binary.LittleEndian
	if t[0] == 'M' {
		order = binary.BigEndian
	}
	at := int64(order.Uint32(t[4:]))
	if at+2 > int64(len(t)) {
		return 0, errTIFF
	}
	count := int64(order.Uint16(t[at:]))
	for i := range count {
		e := at + 2 + 12*i
		if e+12 > int64(len(t)) {
			return 0, errTIFF
		}
		if order.Uint16(t[e:]) == 0x0112 {
			if o := int(order.Uint16(t[e+8:])); o >= 1 && o <= 8 {
				return o, nil
			}
		}
	}
	return 0, errTIFF
}
