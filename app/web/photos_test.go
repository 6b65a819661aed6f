package web

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"stallwright/app/store"
	"stallwright/app/store/storetest"
)

// halves is a picture w by h, its left half red, its right half blue.
func halves(w, h int) *image.RGBA {
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{R: 255, A: 255}
			if x >= w/2 {
				c = color.RGBA{B: 255, A: 255}
			}
			p.Set(x, y, c)
		}
	}
	return p
}

func jpegOf(t testing.TB, p image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, p, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withExif puts an Exif segment with an orientation, and a secret, behind a JPEG's
// start.
func withExif(jpg []byte, orientation uint16) []byte {
	tiff := []byte("MM\x00*\x00\x00\x00\x08\x00\x01")
	tiff = binary.BigEndian.AppendUint16(tiff, 0x0112)
	tiff = binary.BigEndian.AppendUint16(tiff, 3)
	tiff = binary.BigEndian.AppendUint32(tiff, 1)
	tiff = binary.BigEndian.AppendUint16(tiff, orientation)
	tiff = append(tiff, 0, 0, 0, 0, 0, 0)
	tiff = append(tiff, "52.1 N 9.9 E <script>alert(1)</script>"...)
	seg := append([]byte("Exif\x00\x00"), tiff...)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(seg)+2))
	return bytes.Join([][]byte{jpg[:2], head, seg, jpg[2:]}, nil)
}

func TestPhotoFromPhoneToPage(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		a.make("farm", exampleJob(t, "harrow-field-pen"))
		sent := withExif(jpegOf(t, halves(64, 32)), 6)
		path := "/api/jobs/farm/photos/p1?place=P-2&note=%3Cb%3Eloose%3C/b%3E&by=Sam&taken=2026-05-03T14:10:00Z"
		var p, again Photo
		a.call("PUT", path, sent, "Content-Type", "image/jpeg").want(200).into(&p)
		a.call("PUT", path, sent, "Content-Type", "image/jpeg").want(200).into(&again)
		if p != again || p.Place != "P-2" || p.Width != 32 || p.Height != 64 || p.Seq != 2 {
			t.Errorf("%+v %+v", p, again)
		}
		a.call("PUT", path, jpegOf(t, halves(8, 8)), "Content-Type", "image/jpeg").want(409)
		r := a.call("GET", "/api/jobs/farm/photos/p1", nil).want(200)
		if r.Header.Get("Content-Type") != "image/jpeg" || !strings.Contains(r.Header.Get("Content-Security-Policy"), "sandbox") || r.Header.Get("X-Content-Type-Options") != "nosniff" {
			t.Error(r.Header)
		}
		if bytes.Contains(r.Body, []byte("script")) || bytes.Contains(r.Body, []byte("Exif")) {
			t.Error("what the phone wrote beside the picture is still there")
		}
		// Orientation 6: the top of what is seen is the left of what is stored.
		img, _, err := image.Decode(bytes.NewReader(r.Body))
		if err != nil {
			t.Fatal(err)
		}
		if red, _, blue, _ := img.At(16, 8).RGBA(); red < blue {
			t.Error("the photo lies on its side")
		}
		var list struct{ Photos []Photo }
		a.call("GET", "/api/jobs/farm/photos", nil).want(200).into(&list)
		if len(list.Photos) != 1 || list.Photos[0] != p {
			t.Errorf("%+v", list)
		}
		a.call("GET", "/api/jobs/farm/photos/p2", nil).want(404)
		a.call("PUT", "/api/jobs/none/photos/p1", sent, "Content-Type", "image/jpeg").want(404)
	})
}

// Each of the eight ways a camera is held, against the table of Exif 2.32 (tag
// 0x0112): where the stored picture's first row and column are seen.
func TestUprightEightWays(t *testing.T) {
	src := image.NewRGBA(image.Rect(0, 0, 3, 2))
	for i := range 6 {
		src.Set(i%3, i/3, color.RGBA{R: uint8(i), A: 255})
	}
	for turn, want := range map[int][]uint8{
		1: {0, 1, 2, 3, 4, 5}, // row 0 top, column 0 left
		2: {2, 1, 0, 5, 4, 3}, // top, right
		3: {5, 4, 3, 2, 1, 0}, // bottom, right
		4: {3, 4, 5, 0, 1, 2}, // bottom, left
		5: {0, 3, 1, 4, 2, 5}, // left, top
		6: {3, 0, 4, 1, 5, 2}, // right, top
		7: {5, 2, 4, 1, 3, 0}, // right, bottom
		8: {2, 5, 1, 4, 0, 3}, // left, bottom
	} {
		out := upright(src, turn)
		var got []uint8
		for y := range out.Rect.Dy() {
			for x := range out.Rect.Dx() {
				got = append(got, out.RGBAAt(x, y).R)
			}
		}
		if !bytes.Equal(got, want) {
			t.Errorf("orientation %d: %v, want %v", turn, got, want)
		}
	}
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	a := start(t, sqlite(t))
	a.make("farm", exampleJob(t, "harrow-field-pen"))
	good := jpegOf(t, halves(32, 32))
	var huge bytes.Buffer
	if err := png.Encode(&huge, image.NewGray(image.Rect(0, 0, 8000, 7000))); err != nil {
		t.Fatal(err)
	}
	for name, body := range map[string][]byte{
		"nothing": {}, "HTML": []byte("<html><script>alert(1)</script>"), "SVG": []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`),
		"PDF": []byte("%PDF-1.7"), "a program": []byte("\x7fELF\x02\x01\x01"), "GIF": []byte("GIF89a\x01\x00\x01\x00"),
		"a JPEG cut off": good[:len(good)/2], "a JPEG's head": good[:20], "a PNG of 56 million points": huge.Bytes(),
	} {
		if r := a.call("PUT", "/api/jobs/farm/photos/p1", body, "Content-Type", "image/jpeg"); r.Status != 415 && len(body) > 0 || r.Status < 400 {
			t.Errorf("%s: %d %s", name, r.Status, r.Body)
		}
	}
	a.call("PUT", "/api/jobs/farm/photos/p1", make([]byte, photos+1), "Content-Type", "image/jpeg").want(413)
	a.call("PUT", "/api/jobs/farm/photos/p1?taken=yesterday", good, "Content-Type", "image/jpeg").want(422)
	a.call("PUT", "/api/jobs/farm/photos/a.b", good, "Content-Type", "image/jpeg").want(422)
	var list struct{ Photos []Photo }
	a.call("GET", "/api/jobs/farm/photos", nil).want(200).into(&list)
	if len(list.Photos) != 0 {
		t.Errorf("%+v", list)
	}
	// A picture that is also something else keeps nothing of it.
	poly := append(good[:len(good):len(good)], "<script>alert(1)</script>"...)
	a.call("PUT", "/api/jobs/farm/photos/p2", poly, "Content-Type", "text/html").want(200)
	if r := a.call("GET", "/api/jobs/farm/photos/p2", nil).want(200); bytes.Contains(r.Body, []byte("script")) {
		t.Error("what was hidden behind the picture is still there")
	}
}

func TestLargePhotoIsMadeSmaller(t *testing.T) {
	data, w, h, err := picture(jpegOf(t, halves(4000, 1000)))
	if err != nil || w != longSide || h != 512 || len(data) == 0 {
		t.Errorf("%d x %d, %v", w, h, err)
	}
}

func FuzzPicture(f *testing.F) {
	f.Add(withExif(jpegOf(f, halves(4, 4)), 8))
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x10Exif\x00\x00MM\x00*\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 4 && b[0] == 0xff && b[1] == 0xd8 {
			orientation(b)
		}
		if c, _, err := image.DecodeConfig(bytes.NewReader(b)); err == nil && c.Width*c.Height > 1<<20 {
			return // too slow to try by the thousand
		}
		_, _, _, _ = picture(b)
	})
}
