package job

import (
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/phrase"
)

// Written says where something is stated: file and line, or the entry of the
// notebook. It says nothing of a place that is not known.
func Written(pos document.Pos) phrase.Phrase {
	at := pos.String()
	if id, ok := strings.CutPrefix(at, EntryPlace); ok {
		return phrase.Of("source.entry", called("entry", id))
	}
	if pos.IsZero() {
		return phrase.Phrase{}
	}
	return phrase.Of("source.at", called("at", at))
}

// Cite says who read it, when, and where it is written.
func (m *Measurement) Cite() phrase.Phrase { return citeRead(m.By, m.At, m.Pos()) }

// Cite says who read it, when, and where it is written.
func (o *Obstruction) Cite() phrase.Phrase { return citeRead(o.By, o.At, o.Pos()) }

// Cite says who measured it, when, and where it is written.
func (p *Pier) Cite() phrase.Phrase { return citeRead(p.By, p.At, p.Pos()) }

// Cite says who read it, when, and where it is written.
func (r *Reading) Cite() phrase.Phrase { return citeRead(r.By, r.At, r.Pos()) }

// Cite says who said so, when, and where it is written.
func (s *State) Cite() phrase.Phrase {
	state := phrase.With("state", s.Is.Say())
	return cited(phrase.Of(citeKey("source.stated", s.By, s.At), citeArgs(s.By, s.At, state)...), s.Pos())
}

// citeRead says who took a reading, when, and where it is written.
func citeRead(by, at string, pos document.Pos) phrase.Phrase {
	return cited(phrase.Of(citeKey("source.measured", by, at), citeArgs(by, at)...), pos)
}

// cites are what may be said of who and when.
var cites = map[string][4]string{
	"source.measured": {"source.measured", "source.measured-by", "source.measured-at", "source.measured-by-at"},
	"source.stated":   {"source.stated", "source.stated-by", "source.stated-at", "source.stated-by-at"},
}

func citeKey(of, by, at string) string {
	n := 0
	if by != "" {
		n = 1
	}
	if at != "" {
		n += 2
	}
	return cites[of][n]
}

func citeArgs(by, at string, more ...phrase.Arg) []phrase.Arg {
	if by != "" {
		more = append(more, called("by", by))
	}
	if at != "" {
		more = append(more, called("at", clockTime(at)))
	}
	return more
}

// cited adds where it is written, where that is known.
func cited(p phrase.Phrase, pos document.Pos) phrase.Phrase {
	where := Written(pos)
	if where.Empty() {
		return p
	}
	return phrase.Of("source.written", phrase.With("source", p), phrase.With("where", where))
}

// Cite says where the coverage comes from.
func (b *Board) Cite() phrase.Phrase {
	switch {
	case !b.Measured:
		return phrase.Of("source.face", called("nominal", string(b.Nominal)))
	case b.tenBoards:
		return phrase.Of("source.ten-boards", called("at", b.at))
	}
	return phrase.Of("source.coverage", called("at", b.at))
}

// Cite says where the minutes come from.
func (l *Labour) Cite() phrase.Phrase {
	if l != nil && (l.Has("shim") || l.Has("setting")) {
		return phrase.Of("source.job-labour")
	}
	return phrase.Of("source.practice")
}
