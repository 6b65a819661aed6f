package fit

import (
	"fmt"
	"strconv"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// release is the release that froze a bay's pieces; nil for none.
func (f *fitter) release(i int) *job.State {
	if f.thaw {
		return nil
	}
	return f.out.progress.Fill(f.lay.Bays[i].Name).Release
}

// frozenClear counts on the clear width that a frozen bay's pieces were made to;
// false where nothing is frozen or its release kept no width.
func (f *fitter) frozenClear(i int) bool {
	r := f.release(i)
	if r == nil || r.Width == nil {
		return false
	}
	f.out.Bays[i].State = Measured // of pieces that the release does not hold
	f.widths(i, *r.Width, phrase.Of("rule.narrowest-at-release"), phrase.Of("source.as-released"),
		reason.Given(phrase.Of("why.frozen"), phrase.Name(f.lay.Bays[i].Name), r.Cite()))
	return true
}

// freeze puts the frozen pieces of released bays in place of those that would be
// made now, and tells what of them no longer fits.
func (f *fitter) freeze() {
	for i := range f.lay.Bays {
		if r := f.release(i); r != nil {
			f.freezeBay(i, r)
			f.again(i, r)
		}
	}
}

func (f *fitter) freezeBay(i int, r *job.State) {
	out := &f.out.Bays[i]
	fresh := out.State // of pieces that the release does not hold
	out.Frozen, out.State = true, State(f.out.progress.Fill(r.Bay).Is)
	why := reason.Given(phrase.Of("why.frozen"), phrase.Name(r.Bay), r.Cite())
	left := make(map[string]*job.Frozen, len(r.Pieces))
	for k := range r.Pieces {
		left[r.Pieces[k].Label] = &r.Pieces[k]
	}
	var besides, ripped, otherwise []string
	for _, k := range out.Pieces {
		p := &f.out.Pieces[k]
		was := left[p.Label]
		if was == nil {
			besides = append(besides, p.Label)
			p.State = fresh
			continue
		}
		delete(left, p.Label)
		p.State = out.State
		if p.Ripped != (was.Covers != 0) || was.Covers != 0 && was.Covers != p.Height {
			otherwise = append(otherwise, p.Label)
			ripped = append(ripped, fmt.Sprintf("%s to %s, released as %s", p.Label, f.rip(p.Ripped, p.Height), f.rip(was.Covers != 0, was.Covers)))
		}
		f.keep(i, p, was, why)
	}
	if len(besides) > 0 {
		f.find(finding.FrozenNew, finding.Warning, r.Bay, fmt.Sprintf("it now takes %s besides what was released: cut nothing for it", names(besides)), phrase.Of("way.release-again"))
		f.say("found.frozen-new", pieces(besides))
	}
	if len(ripped) > 0 {
		f.find(finding.FrozenNew, finding.Warning, r.Bay, "its courses come out otherwise than released: "+strings.Join(ripped, "; "), phrase.Of("way.release-again"))
		f.say("found.frozen-otherwise", pieces(otherwise))
	}
	f.leftOver(i, r, left, why)
}

// rip says how high a board is ripped.
func (f *fitter) rip(ripped bool, covers measure.Length) string {
	if !ripped {
		return "a whole board"
	}
	return f.show(covers)
}

// keep gives a piece its frozen sizes.
func (f *fitter) keep(i int, p *Piece, was *job.Frozen, why *reason.Reason) {
	sameHeight := was.Covers == 0 || was.Covers == p.Height
	if was.Length == p.Length && sameHeight {
		return
	}
	p.Why = reason.Of(phrase.Of("why.length-of", phrase.With("piece", phrase.Name(p.Label))), phrase.Length(was.Length), phrase.Of("rule.frozen", phrase.With("length", phrase.Length(p.Length))), phrase.Phrase{}, why, p.Why)
	if g := f.out.Bays[i].Grille; g != nil && p.Kind == Grille {
		g.Width, g.Trim[1], g.Why = was.Length, g.Made-was.Length-g.Trim[0], p.Why
	}
	p.Length = was.Length
	if !sameHeight {
		p.Height = was.Covers
	}
}

// leftOver keeps frozen pieces that have no place any more.
func (f *fitter) leftOver(i int, r *job.State, left map[string]*job.Frozen, why *reason.Reason) {
	var gone []string
	for k := range r.Pieces {
		was := &r.Pieces[k]
		if left[was.Label] != was {
			continue
		}
		gone = append(gone, was.Label)
		p := Piece{Label: was.Label, Kind: kindOf(was), Item: was.Item, Run: f.lay.Bays[i].Run, Bay: i, Length: was.Length,
			Height: was.Covers, Treated: was.Treated, State: f.out.Bays[i].State, Misfit: true, Why: why}
		if p.Item == "" {
			p.Item, p.Cut = Lumber, true
			p.Ripped = p.Height != 0
			if p.Height == 0 {
				p.Height = f.board.Coverage
			}
		}
		f.add(p)
	}
	if len(gone) > 0 {
		f.find(finding.FrozenLeft, finding.Warning, r.Bay, fmt.Sprintf("released, but without a place in it now: %s", names(gone)),
			phrase.Of("way.set-aside"), phrase.Of("way.put-back"))
		f.say("found.frozen-left", pieces(gone))
	}
}

// kindOf tells a frozen piece's kind by its label.
func kindOf(p *job.Frozen) PieceKind {
	_, part, _ := strings.Cut(p.Label, "/")
	for _, k := range []PieceKind{Grille, Door, Window, Feeder, Track} {
		if strings.HasPrefix(part, string(k)) {
			return k
		}
	}
	if part == "pack" {
		return Packing
	}
	return Board
}

// fewNames is how many pieces are named one by one.
const fewNames = 6

// names lists labels of one bay: A1-A2/c1, c2, c3; of more than a few the first
// and the last.
func names(labels []string) string {
	out := labels[0]
	if n := len(labels); n > fewNames {
		_, last, _ := strings.Cut(labels[n-1], "/")
		return out + " … " + last + " (" + strconv.Itoa(n) + " pieces)"
	}
	for _, l := range labels[1:] {
		_, part, _ := strings.Cut(l, "/")
		out += ", " + part
	}
	return out
}
