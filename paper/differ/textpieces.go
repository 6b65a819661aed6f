package differ

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// pieceKey is what makes pieces read alike but for where they go.
type pieceKey struct {
	kind, use string
	old, new  int64
	item      string
	treated   string // how its treatment changes
	state     string // how far it was: released, cut, loaded
}

// useWords are the headings, in the order people want them.
var useWords = []struct{ use, words string }{
	{Keep, "stay as they are, elsewhere or renamed"},
	{Recut, "cut again from the old piece"},
	{Again, "make anew"},
	{Coming, "new"},
	{Gone, "no longer needed"},
}

// pieces tells what can be done with what is made already.
func (t *text) pieces() {
	if len(t.Diff.Pieces) == 0 {
		return
	}
	if s := t.unreleased(); s != "" {
		t.line(0, "%s", s)
	}
	t.otherLumber()
	if t.otherKit {
		t.line(0, "Posts, tubes, channels, grilles, doors and hardware are those of the other kit: see the order.")
	}
	for _, u := range useWords {
		t.used(u.use, u.words)
	}
	t.fromElsewhere()
}

// otherLumber tells once that no old board serves, where the lumber is another.
func (t *text) otherLumber() {
	for _, u := range t.Use {
		if u.Kind == "board" && t.otherBoards && u.Again > 0 {
			t.line(0, "The lumber is another: all %d boards that stay are made anew.", u.Again)
		}
	}
}

// used tells the pieces of one use, grouped by length.
func (t *text) used(use, words string) {
	at := map[pieceKey]int{}
	var keys []pieceKey
	var groups [][]*Piece
	for i := range t.Diff.Pieces {
		v := &t.Diff.Pieces[i]
		if t.otherKit && v.Kind != "board" && use != Keep {
			continue
		}
		if v.Use != use || use == Keep && (!v.moves() || t.follows(&v.Part) || t.follow(t.old.Pieces[v.oldAt].Place) == v.Place) || use == Again && v.Kind == "board" && t.otherBoards {
			continue
		}
		k := pieceKey{kind: v.Kind, use: use, old: v.OldNM, new: v.NewNM, item: t.item(v)}
		if v.oldAt >= 0 && mayBeCut(t.old.Pieces[v.oldAt].State) {
			k.state = ", " + t.old.Pieces[v.oldAt].State + " already"
		}
		if use == Again && v.Kind == "board" {
			k.treated = treatment(t.old.Pieces[v.oldAt].Treated, t.new.Pieces[v.newAt].Treated)
		}
		if use == Keep {
			k.old, k.new, k.item, k.state = 0, 0, "", ""
		}
		n, ok := at[k]
		if !ok {
			n = len(keys)
			at[k] = n
			keys = append(keys, k)
			groups = append(groups, nil)
		}
		groups[n] = append(groups[n], v)
	}
	if len(keys) == 0 {
		return
	}
	t.line(0, "%s:", words)
	for n, k := range keys {
		t.line(2, "%d %s%s", len(groups[n]), t.kindWords(k.kind, len(groups[n])), t.lengths(k)+k.treated+k.state)
		if use == Keep {
			t.line(4, "%s", t.relabel(groups[n]))
			continue
		}
		t.line(4, "%s", t.labels(groups[n]))
	}
}

// treatment tells how a board's treatment changes.
func treatment(old, new bool) string {
	switch {
	case old && !new:
		return ", treated no more"
	case new && !old:
		return ", treated now"
	}
	return ""
}

// moves says whether a piece that stays is called or placed otherwise now.
func (v *Piece) moves() bool { return v.Old != v.New }

func (t *text) item(v *Piece) string {
	if v.Kind == "board" {
		return ""
	}
	switch {
	case v.newAt < 0:
		return t.old.Pieces[v.oldAt].Item
	case v.oldAt < 0:
		return t.new.Pieces[v.newAt].Item
	}
	return arrow(t.old.Pieces[v.oldAt].Item, t.new.Pieces[v.newAt].Item)
}

func (t *text) kindWords(kind string, n int) string {
	if n == 1 || kind == "packing" {
		return kind
	}
	return kind + "s"
}

func (t *text) lengths(k pieceKey) string {
	switch {
	case k.use == Keep:
		return ""
	case k.kind == "door" || k.kind == "window" || k.kind == "feeder": // made, not cut
		return " (" + k.item + ")"
	case k.use == Coming:
		return " of " + t.show(k.new)
	case k.use == Gone:
		return " of " + t.show(k.old)
	case k.old == k.new:
		return " of " + t.show(k.new)
	}
	return ", " + arrow(t.show(k.old), t.show(k.new))
}

// relabel tells which places' labels become which.
func (t *text) relabel(list []*Piece) string {
	var out []string
	for _, v := range list {
		old, _, _ := strings.Cut(v.Old, "/")
		if s := old + " → " + v.Place; !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return strings.Join(out, ", ")
}

// labels writes pieces by place: A1-A2 c1–c11, A2-A3 c1–c4.
func (t *text) labels(list []*Piece) string {
	var places []string
	codes := map[string][]string{}
	for _, v := range list {
		place := v.Place
		if v.code == "" {
			place = v.Name() // a post goes by its own name
		}
		if codes[place] == nil {
			places = append(places, place)
		}
		codes[place] = append(codes[place], v.code)
	}
	var out []string
	for i := 0; i < len(places); {
		same := spans(codes[places[i]])
		n := i + 1
		for n < len(places) && spans(codes[places[n]]) == same {
			n++
		}
		s := t.list(places[i:n])
		if same != "" && same != list[0].Kind {
			s += " (" + same + ")"
		}
		out = append(out, s)
		i = n
	}
	return strings.Join(out, ", ")
}

// spans writes codes, numbered neighbours as from–to: c1–c9, c11.
func spans(codes []string) string {
	var out []string
	for i := 0; i < len(codes); {
		n := i + 1
		for n < len(codes) && nextCode(codes[n-1], codes[n]) {
			n++
		}
		switch {
		case codes[i] == "":
		case n-i >= 3:
			out = append(out, codes[i]+"–"+codes[n-1])
		default:
			out = append(out, codes[i:n]...)
		}
		i = n
	}
	return strings.Join(out, ", ")
}

func nextCode(a, b string) bool {
	i, ok := courseNo(a)
	j, also := courseNo(b)
	return ok && also && (j == i || j == i+1)
}

// courseNo is the course of c7, c7L, c7.2.
func courseNo(code string) (int, bool) {
	s, ok := strings.CutPrefix(code, "c")
	s = strings.TrimRight(strings.TrimRight(s, "LR"), " ")
	s, _, _ = strings.Cut(s, ".")
	n, err := strconv.Atoi(s)
	return n, ok && err == nil
}

// fromElsewhere tells which left-over boards serve at another place.
func (t *text) fromElsewhere() {
	type key struct {
		from, to string
		old, new int64
	}
	var keys []key
	count := map[key]int{}
	length := map[string]int64{}
	for i := range t.old.Pieces {
		length[t.old.Pieces[i].Label] = t.old.Pieces[i].LengthNM
	}
	for i := range t.Diff.Pieces {
		v := &t.Diff.Pieces[i]
		if v.From == "" {
			continue
		}
		from, _, _ := strings.Cut(v.From, "/")
		k := key{from, v.Place, length[v.From], v.NewNM}
		if count[k] == 0 {
			keys = append(keys, k)
		}
		count[k]++
	}
	if len(keys) == 0 {
		return
	}
	t.line(0, "boards left over that serve elsewhere:")
	const few = 8
	for i, k := range keys {
		if i == few {
			rest := 0
			for _, k := range keys[i:] {
				rest += count[k]
			}
			t.line(2, "and %d more (--json tells all)", rest)
			return
		}
		how := "cut to " + t.show(k.new)
		if k.old == k.new {
			how = "as they are"
		}
		t.line(2, "%d of %s for %s, %s", count[k], k.from, k.to, how)
	}
}

// mayBeCut says whether a fill in this state holds pieces that may be cut, or are.
func mayBeCut(state string) bool {
	return state == "released" || state == "cut" || state == "loaded"
}

// unreleased reminds that boards of bays which were not released should not have
// been cut. A leaf's boards are made to the leaf, whatever the bay.
func (t *text) unreleased() string {
	var places []string
	seen, all := map[string]bool{}, true
	for i := range t.Diff.Pieces {
		v := &t.Diff.Pieces[i]
		if v.oldAt < 0 || v.Use == Keep || v.Kind != "board" || strings.HasPrefix(t.kind[v.Place], "door ") {
			continue
		}
		if mayBeCut(t.old.Pieces[v.oldAt].State) {
			all = false
		} else if !seen[v.Place] {
			seen[v.Place] = true
			places = append(places, v.Place)
		}
	}
	switch {
	case len(places) == 0:
		return ""
	case all:
		return "No board below was released in the old plan: none should be cut yet."
	}
	return fmt.Sprintf("Not released in the old plan, so none should be cut yet: %s", t.list(places))
}
