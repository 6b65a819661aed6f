package pdf

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"

	"stallwright/paper/draw"
)

// checked refuses a document without pages, and an outline that leaves them.
func checked(pages []Page, outline []Entry) error {
	if len(pages) == 0 {
		return errors.New("a document needs a page")
	}
	level := -1
	for _, e := range outline {
		if e.Page < 0 || e.Page >= len(pages) || e.Level < 0 || e.Level > level+1 {
			return fmt.Errorf("outline entry %q: page %d of %d, level %d after %d", e.Title, e.Page+1, len(pages), e.Level, level)
		}
		level = e.Level
	}
	return nil
}

// outline writes the entries as a tree (ISO 32000-1, 12.3.3). Those below the
// first level are folded away.
func (d *document) outline(entries []Entry) {
	if len(entries) == 0 {
		d.object(outlineNumber) // its number is taken
		d.printf("null\nendobj\n")
		return
	}
	d.first = pageObject(len(d.sizes))
	number := func(i int) int { return d.first + i }
	type links struct{ parent, prev, next, first, last, count int }
	l := make([]links, len(entries))
	top := links{first: -1, last: -1}
	var above []int // the open entry of each level
	for i, e := range entries {
		above = above[:min(e.Level, len(above))]
		l[i] = links{parent: -1, prev: -1, next: -1, first: -1, last: -1}
		holder := &top
		if e.Level > 0 {
			l[i].parent = above[e.Level-1]
			holder = &l[l[i].parent]
		}
		if holder.last >= 0 {
			l[i].prev = holder.last
			l[holder.last].next = i
		} else {
			holder.first = i
		}
		holder.last = i
		holder.count++
		above = append(above, i)
	}
	d.object(outlineNumber)
	d.printf("<</Type/Outlines/First %d 0 R/Last %d 0 R/Count %d>>\nendobj\n", number(top.first), number(top.last), top.count)
	for i, e := range entries {
		parent := outlineNumber
		if l[i].parent >= 0 {
			parent = number(l[i].parent)
		}
		d.object(number(i))
		d.printf("<</Title %s/Parent %d 0 R/Dest[%d 0 R/XYZ null null null]", textString(draw.Clean(e.Title)), parent, pageObject(e.Page))
		for _, v := range [...]struct {
			key string
			to  int
		}{{"Prev", l[i].prev}, {"Next", l[i].next}, {"First", l[i].first}, {"Last", l[i].last}} {
			if v.to >= 0 {
				d.printf("/%s %d 0 R", v.key, number(v.to))
			}
		}
		if l[i].count > 0 {
			d.printf("/Count %d", -l[i].count)
		}
		d.printf(">>\nendobj\n")
	}
}

// close writes what holds the document together: the list of pages, what it says
// about itself, the catalog with page labels, the cross-reference table and a
// trailer with an identifier made from the content (ISO 32000-1, 7.5, 7.7, 12.4.2,
// 14.3.3, 14.4).
func (d *document) close(info Info, pages []Page) {
	d.object(pagesNumber)
	d.printf("<</Type/Pages/Count %d/Kids[", len(pages))
	for i := range pages {
		d.printf("%d 0 R\n", pageObject(i))
	}
	d.printf("]>>\nendobj\n")
	d.object(infoNumber)
	d.printf("<<%s>>\nendobj\n", about(info))
	d.object(catalogNumber)
	d.printf("<</Type/Catalog/Pages %d 0 R%s/ViewerPreferences<</DisplayDocTitle true>>", pagesNumber, labels(pages))
	if info.Language != "" {
		d.printf("/Lang %s", textString(info.Language))
	}
	if d.first > 0 {
		d.printf("/Outlines %d 0 R/PageMode/UseOutlines", outlineNumber)
	}
	d.printf(">>\nendobj\n")
	id := fmt.Sprintf("%x", sha256.Sum256(d.out.Bytes()))[:32]
	xref := d.out.Len()
	d.printf("xref\n0 %d\n0000000000 65535 f \n", len(d.offsets)+1)
	for _, at := range d.offsets {
		d.printf("%010d 00000 n \n", at)
	}
	d.printf("trailer\n<</Size %d/Root %d 0 R/Info %d 0 R/ID[<%s><%s>]>>\nstartxref\n%d\n%%%%EOF\n", len(d.offsets)+1, catalogNumber, infoNumber, id, id, xref)
}

var day = regexp.MustCompile(`^(\d{4})-(\d{2})-(\d{2})$`)

// about is the document's information dictionary.
func about(info Info) string {
	var b strings.Builder
	for _, v := range [...][2]string{{"Title", info.Title}, {"Subject", info.Subject}, {"Creator", "Stallwright"}, {"Producer", "Stallwright"}} {
		if v[1] != "" {
			fmt.Fprintf(&b, "/%s %s\n", v[0], textString(v[1]))
		}
	}
	if d := day.FindStringSubmatch(info.Date); d != nil {
		fmt.Fprintf(&b, "/CreationDate (D:%s%s%s)\n/ModDate (D:%s%s%s)\n", d[1], d[2], d[3], d[1], d[2], d[3])
	}
	return b.String()
}

// labels is the catalog's page labels; none where every page goes by its number.
func labels(pages []Page) string {
	any := false
	for _, p := range pages {
		any = any || p.Label != ""
	}
	if !any {
		return ""
	}
	var b strings.Builder
	b.WriteString("/PageLabels<</Nums[\n")
	for i, p := range pages {
		label := p.Label
		if label == "" {
			label = strconv.Itoa(i + 1)
		}
		fmt.Fprintf(&b, "%d<</P%s>>\n", i, textString(label))
	}
	b.WriteString("]>>\n")
	return b.String()
}

// textString writes a text as a PDF text string: plain where it is plain, else
// as UTF-16 (ISO 32000-1, 7.9.2.2).
func textString(s string) string {
	plain := !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r > '~' || r == '(' || r == ')' || r == '\\' })
	if plain {
		return "(" + s + ")"
	}
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	b.WriteString(">")
	return b.String()
}
