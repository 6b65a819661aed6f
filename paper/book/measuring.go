package book

import (
	"slices"
	"strings"
	"unicode"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/site"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// measuring is the sheet to measure with: every task in walking order, a box for
// each value. What was measured already stands in its box.
func (b *binder) measuring() error {
	sheet := site.NewSheet(b.Site, b.Layout)
	f := page.New(b.format)
	s := states{}
	f.Text(b.say("book.measure-how"), page.Style{})
	f.Text(b.say("book.measure-open", count("n", sheet.Open)), page.Style{Size: page.Large, Face: draw.Bold})
	f.Signature(b.say("book.sign-measured"), b.say("book.sign-tape"), b.say("book.sign-date"))
	var marks []mark
	for from := 0; from < len(sheet.Tasks); {
		to := from + 1
		for to < len(sheet.Tasks) && b.together(&sheet.Tasks[from], &sheet.Tasks[to]) {
			to++
		}
		marks = append(marks, b.taskGroup(f, s, sheet, from, to))
		from = to
	}
	if f.Left() > 50*draw.MM {
		f.Heading(b.say("book.notes"), page.Title2, 20*draw.MM)
		f.Lines(3)
	}
	b.add(Measure, f, s, marks...)
	return nil
}

// together says whether two tasks stand in one table: what is read on one walk.
func (b *binder) together(v, w *site.Task) bool {
	walk := func(k site.TaskKind) int {
		switch k {
		case site.TaskLevel, site.TaskPlumb:
			return 1
		case site.TaskDistance, site.TaskDiagonal:
			return 2
		case site.TaskSpots, site.TaskCrossings:
			return 3
		}
		return 4
	}
	return v.Stage == w.Stage && walk(v.Kind) == walk(w.Kind) && b.structureOf(v) == b.structureOf(w)
}

// structureOf is the structure that a task belongs to.
func (b *binder) structureOf(t *site.Task) int {
	if i, ok := b.Layout.Bay(t.Bay); ok {
		return b.Layout.Bays[i].Structure
	}
	if len(t.Posts) > 0 {
		if i, ok := b.Layout.Post(t.Posts[0]); ok {
			return b.Layout.Posts[i].Structure
		}
	}
	for i := range b.Layout.Rooms {
		if r := &b.Layout.Rooms[i]; r.Name == t.Place {
			return r.Structure
		}
	}
	for i := range b.Layout.Structures {
		if b.Layout.Structures[i].Name == t.Place {
			return i
		}
	}
	for i := range b.Layout.Runs {
		if r := &b.Layout.Runs[i]; r.Name == t.Bay {
			return r.Structure
		}
	}
	return -1
}

// boxes are what is written for a task: a hint in the corner of each box.
func (b *binder) boxes(k site.TaskKind) []string {
	switch k {
	case site.TaskWidth:
		return []string{b.say("book.box-bottom"), b.say("book.box-middle"), b.say("book.box-top")}
	case site.TaskPlumb:
		return []string{b.say("book.box-along"), b.say("book.box-across")}
	case site.TaskLevel:
		return []string{b.say("book.box-rod")}
	case site.TaskSpots, site.TaskCrossings:
		return nil
	}
	return []string{b.say("book.box-tape")}
}

// taskGroup writes tasks that are read on one walk.
func (b *binder) taskGroup(f *page.Flow, s states, sheet *site.Sheet, from, to int) mark {
	tasks := sheet.Tasks[from:to]
	var kinds []string
	boxes, expected := 0, false
	for i := range tasks {
		if k := b.kindOfTask(tasks[i].Kind); !slices.Contains(kinds, k) {
			kinds = append(kinds, k)
		}
		boxes = max(boxes, len(b.boxes(tasks[i].Kind)))
		expected = expected || tasks[i].Known && tasks[i].Kind != site.TaskPlumb
	}
	title := capital(b.words.Join(kinds))
	if i := b.structureOf(&tasks[0]); i >= 0 && len(b.Layout.Structures) > 1 {
		title = b.Layout.Structures[i].Name + ": " + title
	}
	f.Heading(title+" – "+b.words.Say(tasks[0].Stage.Phrase()), page.Title2, 40*draw.MM)
	start := f.Page()
	t := page.Table{Size: page.Body, Tall: 9 * draw.MM, Columns: []page.Column{{Head: b.say("book.col-no"), Align: draw.End}, {Head: b.say("book.col-what"), Face: draw.Bold}, {Head: b.say("book.col-how")}}}
	if expected {
		t.Columns = append(t.Columns, page.Column{Head: b.say("book.col-expected"), Align: draw.End})
	}
	for range boxes {
		t.Columns = append(t.Columns, page.Column{Width: 27 * draw.MM})
	}
	free := boxes == 0 // what is found is written in words
	t.Columns = append(t.Columns, page.Column{Wide: true})
	many := len(b.hooksOf(tasks)) > 1
	var hooks []string
	for i := range tasks {
		task := &tasks[i]
		hook := capital(b.words.Say(task.Hook))
		k := slices.Index(hooks, hook)
		if k < 0 {
			k = len(hooks)
			hooks = append(hooks, hook)
		}
		how := b.kindOfTask(task.Kind)
		if many {
			how = letter(k) + "  " + how
		}
		row := page.Cells(number(task.No), b.taskName(task), how)
		if expected {
			text := ""
			if task.Known && task.Kind != site.TaskPlumb {
				text = b.length(b.fieldTape().Round(task.Expected, measure.Nearest))
			}
			row.Cells = append(row.Cells, page.Cell{Text: text})
		}
		hints := b.boxes(task.Kind)
		for k := range boxes {
			cell := page.Cell{}
			if k < len(hints) {
				cell = page.Cell{Write: true, Text: b.valueOf(task, k, hints[k])}
			}
			row.Cells = append(row.Cells, cell)
		}
		row.Cells = append(row.Cells, page.Cell{Text: strings.Join(b.noteWords(task), "; "), Write: free})
		t.Rows = append(t.Rows, row)
	}
	for i, h := range hooks {
		if len(hooks) > 1 {
			f.Item(letter(i), h, page.Style{})
		} else {
			f.Text(h, page.Style{})
		}
	}
	f.Table(t)
	for i := range tasks {
		if v, ok := b.Layout.Bay(tasks[i].Bay); ok {
			s.note(start, f.Page(), b.stateOf(v))
		}
	}
	return mark{title, start}
}

// hooksOf are the ways the tape or rod is held in a group.
func (b *binder) hooksOf(tasks []site.Task) map[string]bool {
	out := map[string]bool{}
	for i := range tasks {
		out[b.words.Say(tasks[i].Hook)] = true
	}
	return out
}

// capital begins a text with a capital letter.
func capital(s string) string {
	r := []rune(s)
	if len(r) > 0 {
		r[0] = unicode.ToUpper(r[0])
	}
	return string(r)
}

// letter is A for 0, B for 1 and AA after Z.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

// valueOf is what was read already, else a hint of what to write.
func (b *binder) valueOf(t *site.Task, k int, hint string) string {
	values := t.Values
	if t.Kind != site.TaskWidth && t.Kind != site.TaskPlumb && len(values) > 1 {
		values = values[len(values)-1:]
	}
	if k >= len(values) {
		return hint
	}
	return hint + "\n" + b.length(values[k])
}

// taskName is what is measured: a bay, or posts.
func (b *binder) taskName(t *site.Task) string {
	switch {
	case t.Bay != "":
		return t.Bay
	case t.SetUp != "":
		return b.say("book.task-level", name("post", strings.Join(t.Posts, " ")), name("setup", t.SetUp))
	case t.Place != "":
		return t.Place
	case len(t.Posts) == 2:
		return b.say("book.task-between", name("a", t.Posts[0]), name("b", t.Posts[1]))
	}
	return strings.Join(t.Posts, " ")
}

func (b *binder) kindOfTask(k site.TaskKind) string {
	switch k {
	case site.TaskLevel:
		return b.say("book.tasks-level")
	case site.TaskPlumb:
		return b.say("book.tasks-plumb")
	case site.TaskDistance:
		return b.say("book.tasks-distance")
	case site.TaskDiagonal:
		return b.say("book.tasks-diagonal")
	case site.TaskOpening:
		return b.say("book.tasks-opening")
	case site.TaskSpots:
		return b.say("book.tasks-spots")
	case site.TaskCrossings:
		return b.say("book.tasks-crossings")
	}
	return b.say("book.tasks-width")
}

// noteWords is what to watch at a task. That a frame must be tight stands over the
// whole table.
func (b *binder) noteWords(t *site.Task) []string {
	var out []string
	for _, n := range t.Notes {
		if n.Key != "site.not-before-tight" {
			out = append(out, b.words.Say(n))
		}
	}
	return out
}

// fieldTape is the tape that a site is measured with.
func (b *binder) fieldTape() measure.Tape {
	if b.Job.Units == measure.Metric {
		return measure.TapeMillimetre
	}
	return measure.TapeSixteenth
}

// standing says whether a structure is set between timber posts that stand.
func (b *binder) standing(structure int) bool {
	for i := range b.Layout.Posts {
		if p := &b.Layout.Posts[i]; p.Structure == structure && p.Kind == frame.Timber {
			return true
		}
	}
	return false
}
