// Package page answers what the browser's page asks of the engine, in the page
// itself: a job's text and its notebook go in, and the plan, its drawings, the
// measuring walk and the reasons come out, all as JSON. The server asks the same
// of it, so that both say the same.
//
// What always holds: an Asked with the same values gets the same bytes in reply,
// on every platform; nothing a page can send makes it panic; a text with mistakes
// gets all of them back, by line.
package page

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"stallwright/app/shop"
	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
)

// Asked is one question of the page. What a question does not need is left out.
type Asked struct {
	Job      string            `json:"job"`                // the job document
	Kit      string            `json:"kit,omitempty"`      // the text of an own kit; else the job names a shipped one
	Shop     map[string]string `json:"shop,omitempty"`     // texts of the shop's files by kind and name: kits/ours.yaml
	Entries  []string          `json:"entries,omitempty"`  // the notebook, line by line
	Records  []json.RawMessage `json:"records,omitempty"`  // what else was written down: boards cut, steps, problems
	Language string            `json:"language,omitempty"` // of what a crew reads; the job's where left out
	About    string            `json:"about,omitempty"`    // a bay, run, piece, post or step: what why is asked of, or what is drawn
	Whole    bool              `json:"whole,omitempty"`    // elevation: the whole wall, not the run alone

	Question string `json:"question,omitempty"` // walk: the id of the question to stand at
	Typed    string `json:"typed,omitempty"`    // answer: what was typed, word for word
	Sure     bool   `json:"sure,omitempty"`     // answer: it was typed a second time, after another look
	ID       string `json:"id,omitempty"`       // answer: id of the entry to be made, unlike any other
	When     string `json:"when,omitempty"`     // answer: RFC 3339
	By       string `json:"by,omitempty"`       // answer: who
}

// Reply is the answer. Either Problems or Error tells what is wrong, or Result
// holds what was asked for.
type Reply struct {
	Problems []Problem `json:"problems,omitempty"` // mistakes in the job or the kit
	Error    string    `json:"error,omitempty"`    // what else is wrong, for people
	Result   any       `json:"result,omitempty"`
}

// Problem is one mistake in a text.
type Problem struct {
	File    string `json:"file"`
	Line    int    `json:"line,omitempty"`
	Column  int    `json:"column,omitempty"`
	Path    string `json:"path,omitempty"`
	Text    string `json:"text,omitempty"`
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
}

// asks are the questions by name.
var asks = map[string]func(*Asked) (any, error){
	"answer":    answered,
	"check":     checked,
	"choices":   choices,
	"drawings":  drawings,
	"elevation": elevation,
	"kit":       kitChoices,
	"model":     model,
	"parts":     parts,
	"picture":   picture,
	"offer":     offered,
	"plan":      planned,
	"saw":       saw,
	"screen":    screen,
	"sketch":    sketched,
	"starter":   starter,
	"steps":     ordered,
	"summary":   summary,
	"walk":      walked,
	"why":       why,
}

// Names are the questions that can be asked.
func Names() []string {
	var out []string
	for name := range asks {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// Answer answers a question, both as JSON.
func Answer(name string, asked []byte) []byte {
	r := answer(name, asked)
	out, err := json.Marshal(r)
	if err != nil {
		out, _ = json.Marshal(Reply{Error: "the answer could not be written: " + err.Error()}) // a text always can
	}
	return out
}

func answer(name string, asked []byte) Reply {
	f, ok := asks[name]
	if !ok {
		return Reply{Error: fmt.Sprintf("nothing answers %q; there are %s", name, strings.Join(Names(), ", "))}
	}
	var a Asked
	if err := json.Unmarshal(asked, &a); err != nil {
		return Reply{Error: "the question cannot be read: " + err.Error()}
	}
	result, err := f(&a)
	if err == nil {
		return Reply{Result: result}
	}
	var problems document.Problems
	if !errors.As(err, &problems) {
		return Reply{Error: err.Error()}
	}
	var r Reply
	for _, p := range problems {
		r.Problems = append(r.Problems, Problem{p.Pos.File, p.Pos.Line, p.Pos.Column, p.Path, p.Text, p.Message, p.Hint})
	}
	return r
}

// read reads the job, its kit and its notebook.
func (a *Asked) read() (*job.Job, *kit.Kit, []job.Entry, error) {
	j, err := job.Read("job.yaml", []byte(a.Job))
	if err != nil {
		return nil, nil, nil, err
	}
	k, err := a.kit(j)
	if err != nil {
		return nil, nil, nil, err
	}
	if j, err = a.supply(j); err != nil {
		return nil, nil, nil, err
	}
	var entries []job.Entry
	for i, line := range a.Entries {
		e, err := job.ReadEntry([]byte(line))
		if err != nil {
			return nil, nil, nil, fmt.Errorf("notebook entry %d cannot be read: %w", i+1, err)
		}
		entries = append(entries, e)
	}
	ordered, _ := job.InOrder(entries)
	return j, k, ordered, nil
}

// kit reads the kit that comes with the question, or the shipped one that the
// job names.
func (a *Asked) kit(j *job.Job) (*kit.Kit, error) {
	if a.Kit != "" {
		return readKit("kit.yaml", a.Kit)
	}
	if file, src, ok := kit.Shipped(j.Kit); ok {
		return readKit(file, string(src))
	}
	name := shop.Name(j.Kit)
	if text, ok := a.file(shop.Kits, j.Kit); ok {
		return readKit(name, text)
	}
	r := j.Reporter()
	r.Add(j.Of("kit"), "kit", j.Kit, fmt.Sprintf("neither a shipped kit nor one of the shop on this device is called %q", name), "shipped: "+strings.Join(kit.ShippedNames(), ", "))
	return nil, r.Err()
}
