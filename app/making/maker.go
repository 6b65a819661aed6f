package making

import (
	"container/list"
	"context"
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"

	"golang.org/x/sync/singleflight"

	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/paper/packet"
)

// ErrBroken is a fault of ours while a plan was made. What happened is in the text
// for the log; people are told that the job could not be planned.
var ErrBroken = errors.New("a fault of the program's while planning")

// Maker makes plans and keeps them. It is for use by many at once.
type Maker struct {
	room  int64 // bytes that are kept at most
	slots chan struct{}
	group singleflight.Group

	mu   sync.Mutex
	kept map[string]*list.Element // of *Made
	used list.List                // the one used last in front
	size int64
	hits int64
	made int64
}

// NewMaker makes a Maker that keeps about so many bytes of plans and papers.
func NewMaker(room int64) *Maker {
	return &Maker{room: room, slots: make(chan struct{}, runtime.GOMAXPROCS(0)), kept: map[string]*list.Element{}}
}

// Made is a plan with what was made of it. Nothing of it may be changed.
type Made struct {
	Key  string
	Plan *plan.Plan
	JSON []byte // plan.json

	maker *Maker
	size  int64

	mu     sync.Mutex
	papers map[Paper]*papers
	saw    sawed
}

// planWeight is how many bytes a plan takes for each of its plan.json, that included:
// 2.6 were measured on the demo farm.
const planWeight = 3

// Counts are how many plans were made, and how many were there already.
func (m *Maker) Counts() (made, hits, bytes int64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.made, m.hits, m.size
}

// Make works a job through, or gives the plan that was made of the same content.
func (m *Maker) Make(ctx context.Context, s *Source) (*Made, error) {
	key := s.Key()
	if v := m.find(key); v != nil {
		return v, nil
	}
	out := m.group.DoChan(key, func() (any, error) { return m.fresh(key, s) })
	select {
	case <-ctx.Done():
		return nil, ctx.Err() // it is finished for whoever asks next
	case r := <-out:
		if r.Err != nil {
			return nil, r.Err
		}
		return r.Val.(*Made), nil
	}
}

func (m *Maker) find(key string) *Made {
	m.mu.Lock()
	defer m.mu.Unlock()
	at, ok := m.kept[key]
	if !ok {
		return nil
	}
	m.hits++
	m.used.MoveToFront(at)
	return at.Value.(*Made)
}

// fresh makes a plan, once there is a processor for it.
func (m *Maker) fresh(key string, s *Source) (made *Made, err error) {
	m.slots <- struct{}{}
	defer func() { <-m.slots }()
	defer guard(&err)
	if v := m.find(key); v != nil {
		return v, nil
	}
	k, err := kit.Read(s.KitFile, []byte(s.Kit))
	if err != nil {
		return nil, err
	}
	p, err := plan.MakeWith(s.job, k, s.Notebook)
	if err != nil {
		return nil, fault(err)
	}
	data, err := packet.JSON(p)
	if err != nil {
		return nil, fault(err)
	}
	made = &Made{Key: key, Plan: p, JSON: data, maker: m, size: planWeight * int64(len(data)), papers: map[Paper]*papers{}}
	m.keep(made)
	return made, nil
}

// guard turns a panic into an error: one job must not end the server for all.
func guard(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("%w: %v\n%s", ErrBroken, r, debug.Stack())
	}
}

// fault is an error of a stage: the job's, or ours.
func fault(err error) error {
	if _, ok := ProblemsOf(err); ok {
		return err
	}
	return fmt.Errorf("%w: %w", ErrBroken, err)
}

// keep puts a plan among those kept and lets go of those not used for longest.
func (m *Maker) keep(v *Made) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.made++
	if _, there := m.kept[v.Key]; !there {
		m.kept[v.Key] = m.used.PushFront(v)
		m.size += v.size
	}
	m.trim()
}

// grow counts what was made of a plan that is kept.
func (m *Maker) grow(v *Made, by int64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if at, ok := m.kept[v.Key]; ok && at.Value.(*Made) == v {
		v.size += by
		m.size += by
		m.trim()
	}
}

// trim keeps at least the plan used last.
func (m *Maker) trim() {
	for m.size > m.room && m.used.Len() > 1 {
		at := m.used.Back()
		v := m.used.Remove(at).(*Made)
		delete(m.kept, v.Key)
		m.size -= v.size
	}
}
