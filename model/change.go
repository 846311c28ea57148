package model

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
)

// Change is something that happens to a cupboard. The set is closed; each
// change is plain data, so that it can be written down and done again.
type Change interface {
	// Title says what was done, for undo: "added 6123 Wrap dress".
	Title(c *Collection) string
	// apply makes the change on an editor, or gives an error that says what
	// the user can do. What it has edited until then is thrown away.
	apply(e *editor) error
}

// Apply gives the collection after a change and what the change altered. The
// date is stamped on what the change does not date itself. The collection it
// is called on stays as it is.
func (c *Collection) Apply(ch Change, at Date) (*Collection, Delta, error) {
	e := newEditor(c, at)
	if err := ch.apply(e); err != nil {
		return nil, nil, err
	}
	next := e.done()
	return next, e.delta, nil
}

// ApplyDelta gives the collection after a delta, which must have been made by
// a change on this collection, or be the inverse of its last one. Numbers stay
// given.
func (c *Collection) ApplyDelta(d Delta) *Collection {
	e := newEditor(c, "")
	for _, x := range d {
		if x.After == nil {
			e.drop(x.Kind, x.ID)
		} else {
			e.put(x.After)
		}
	}
	return e.done()
}

// verbs names the changes in journals. A name is never given a new meaning.
var verbs = map[string]func() Change{
	"add":        func() Change { return new(Add) },
	"revise":     func() Change { return new(Revise) },
	"remove":     func() Change { return new(Remove) },
	"tick":       func() Change { return new(Tick) },
	"stand":      func() Change { return new(Stand) },
	"hang":       func() Change { return new(Hang) },
	"take-out":   func() Change { return new(TakeOut) },
	"put-back":   func() Change { return new(PutBack) },
	"set-shelf":  func() Change { return new(SetShelf) },
	"decide":     func() Change { return new(Decide) },
	"measure":    func() Change { return new(TakeMeasure) },
	"unmeasure":  func() Change { return new(DropMeasure) },
	"adopt":      func() Change { return new(Adopt) },
	"expect":     func() Change { return new(Expect) },
	"person":     func() Change { return new(SetPerson) },
	"cloth":      func() Change { return new(SetCloth) },
	"strike":     func() Change { return new(Strike) },
	"rename":     func() Change { return new(Rename) },
	"want":       func() Change { return new(Want) },
	"arrive":     func() Change { return new(Arrive) },
	"worth":      func() Change { return new(SetWorth) },
	"stock":      func() Change { return new(SetStock) },
	"count":      func() Change { return new(Count) },
	"drop-batch": func() Change { return new(DropBatch) },
	"per-year":   func() Change { return new(SetPerYear) },
	"pieces":     func() Change { return new(LookThrough) },
	"batch":      func() Change { return new(SetBatch) },
	"link":       func() Change { return new(SetLink) },
	"merge":      func() Change { return new(Merge) },
	"unmerge":    func() Change { return new(Unmerge) },
	"split":      func() Change { return new(SplitPattern) },
	"one-house":  func() Change { return new(MergePublishers) },
	"sewn":       func() Change { return new(Sewn) },
	"enqueue":    func() Change { return new(Enqueue) },
	"dequeue":    func() Change { return new(Dequeue) },
	"goal":       func() Change { return new(SetGoal) },
	"signs":      func() Change { return new(SignsMade) },
	"photocopy":  func() Change { return new(Photocopy) },
}

// EncodeChange writes a change as JSON: {"do":"add","with":{...}}.
func EncodeChange(ch Change) ([]byte, error) {
	for verb, make := range verbs {
		if reflect.TypeOf(make()) == reflect.TypeOf(ch) {
			return json.Marshal(struct {
				Do   string `json:"do"`
				With Change `json:"with"`
			}{verb, ch})
		}
	}
	return nil, fmt.Errorf("the change %T has no name to be written by", ch)
}

// DecodeChange reads what EncodeChange wrote.
func DecodeChange(b []byte) (Change, error) {
	var head struct {
		Do   string          `json:"do"`
		With json.RawMessage `json:"with"`
	}
	if err := json.Unmarshal(b, &head); err != nil {
		return nil, fmt.Errorf("not a change: %w", err)
	}
	make, ok := verbs[head.Do]
	if !ok {
		return nil, fmt.Errorf("unknown change %q; a newer tuckrow may have written it", head.Do)
	}
	ch := make()
	if err := json.Unmarshal(head.With, ch); err != nil {
		return nil, fmt.Errorf("change %q: %w", head.Do, err)
	}
	return ch, nil
}

// heading names a copy for titles and errors.
func (c *Collection) heading(a Accession) string {
	p := c.PatternOf(a)
	if p == nil {
		return fmt.Sprintf("copy %d", a)
	}
	return p.Heading()
}

// copyOrErr finds a copy that the user named.
func (e *editor) copyOrErr(a Accession) (*Copy, error) {
	if cp := e.c.Copy(a); cp != nil {
		return cp, nil
	}
	return nil, Inputf("there is no copy with accession number %d; look it up with: tuckrow find WORDS", a)
}

// Commit is a change that is safe on disk, and what came of it.
type Commit struct {
	Collection *Collection
	Delta      Delta
	Title      string
}

// Undid stands before the title of the change that was taken back.
const Undid = "undid: "

// TakesBack tells whether the commit took back the one before.
func (c Commit) TakesBack() bool { return strings.HasPrefix(c.Title, Undid) }

// Added lists the copies that a commit entered.
func (c Commit) Added() []Accession {
	var added []Accession
	for _, e := range c.Delta {
		if e.Kind == KindCopy && e.Before == nil {
			added = append(added, Accession(e.ID))
		}
	}
	return added
}
