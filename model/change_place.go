package model

import (
	"cmp"
	"slices"

	"example.org/tuckrow/model/words"
)

// Tick notes that a step has been done, or not, for copies.
type Tick struct {
	Copies []Accession `json:"copies"`
	Step   Step        `json:"step"`
	Undone bool        `json:"undone,omitempty"`
	Sleeve Sleeve      `json:"sleeve,omitempty"` // where the sleeves are, for that step; empty: in the binder
}

// Title implements Change.
func (ch *Tick) Title(c *Collection) string {
	what := "ticked"
	if ch.Undone {
		what = "took back"
	}
	if len(ch.Copies) == 1 {
		return what + " " + ch.Step.String() + " for " + c.heading(ch.Copies[0])
	}
	return what + " " + ch.Step.String() + " for " + words.Count(len(ch.Copies), "copy", "copies")
}

func (ch *Tick) apply(e *editor) error {
	switch {
	case ch.Step == StepBox:
		return Inputf("a copy is in a box when it stands in one; refile says where: tuckrow refile")
	case ch.Step < StepSleeve || ch.Step > StepBox:
		return Inputf("there is no step %d to tick; the steps are sleeve, envelope and group", int(ch.Step))
	}
	if err := asKept("sleeve", ch.Sleeve, ParseSleeve); err != nil {
		return err
	}
	for _, a := range ch.Copies {
		old, err := e.copyOrErr(a)
		if err != nil {
			return err
		}
		cp := *old
		switch {
		case ch.Step == StepSleeve && ch.Undone:
			cp.Sleeve = SleeveWaiting
		case ch.Step == StepSleeve && cp.Sleeve == SleeveWaiting:
			cp.Sleeve = cmp.Or(ch.Sleeve, SleeveInBinder)
		case ch.Step == StepEnvelope:
			cp.Enveloped = !ch.Undone
		case ch.Step == StepGroup:
			cp.Grouped = !ch.Undone
		}
		e.put(&cp)
	}
	return nil
}

// furnish puts new boxes behind a box, or behind them all, and new rows of
// hooks behind those there are.
func (e *editor) furnish(after string, boxes []BoxSpec, hooks []HookSpec) error {
	if len(boxes)+len(hooks) == 0 {
		return nil
	}
	spec, at := e.c.ShelfSpec(), len(e.c.shelf.Boxes)
	if after != "" {
		b, err := e.c.shelf.BoxNamed(after)
		if err != nil {
			return err
		}
		at = slices.Index(e.c.shelf.Boxes, b) + 1
	}
	spec.Boxes, spec.Hooks = slices.Insert(spec.Boxes, at, boxes...), append(spec.Hooks, hooks...)
	return (&SetShelf{Spec: spec}).apply(e)
}

// Hang records the hook that a copy hangs on; the zero hook takes it off.
type Hang struct {
	Copy Accession `json:"copy"`
	Hook string    `json:"hook,omitempty"` // "door 3"
}

// Title implements Change.
func (ch *Hang) Title(c *Collection) string {
	if ch.Hook == "" {
		return "took " + c.heading(ch.Copy) + " off its hook"
	}
	return "hung " + c.heading(ch.Copy) + " on " + ch.Hook
}

func (ch *Hang) apply(e *editor) error {
	old, err := e.copyOrErr(ch.Copy)
	if err != nil {
		return err
	}
	cp := *old
	if cp.Hook, err = e.hook(ch.Hook); err != nil {
		return err
	}
	if cp.Hook.Row != 0 {
		e.unbox(map[Accession]bool{ch.Copy: true})
		cp.Missing = ""
	}
	e.put(&cp)
	return nil
}

// TakeOut notes that a copy is out, in use or lent. Its slot is kept. Of what is
// out already it notes who has it now: where that is somebody else, it is out since
// then, for what and until when is said; else what is not said stays as it was.
type TakeOut struct {
	Copy Accession `json:"copy"`
	To   string    `json:"to,omitempty"`
	For  string    `json:"for,omitempty"`
	Due  Date      `json:"due,omitempty"`
}

// Title implements Change.
func (ch *TakeOut) Title(c *Collection) string {
	if cp := c.Copy(ch.Copy); cp != nil && cp.Out != nil {
		return "noted who has " + c.heading(ch.Copy)
	}
	return "took out " + c.heading(ch.Copy)
}

func (ch *TakeOut) apply(e *editor) error {
	old, err := e.copyOrErr(ch.Copy)
	if err != nil {
		return err
	}
	if _, err := ParseDate("due", string(ch.Due)); err != nil {
		return err
	}
	cp, out := *old, Out{Since: e.at, To: ch.To, For: ch.For, Due: ch.Due}
	cleanAll(&out.To, &out.For)
	if was := old.Out; was != nil {
		if out.To == "" || out.To == was.To {
			out = Out{Since: was.Since, To: was.To, For: cmp.Or(out.For, was.For), Due: cmp.Or(out.Due, was.Due)}
		}
		if out == *was {
			return Inputf("%q is out already, since %s; say who has it now, or put it back first", e.c.heading(ch.Copy), was.Since)
		}
	}
	cp.Out, cp.Missing = &out, ""
	e.put(&cp)
	return nil
}

// PutBack notes that a copy is back at its slot, or that one is there again that
// was missing: it waits to be put away then.
type PutBack struct {
	Copy Accession `json:"copy"`
}

// Title implements Change.
func (ch *PutBack) Title(c *Collection) string {
	if cp := c.Copy(ch.Copy); cp != nil && cp.Missing != "" {
		return "found " + c.heading(ch.Copy)
	}
	return "put back " + c.heading(ch.Copy)
}

func (ch *PutBack) apply(e *editor) error {
	old, err := e.copyOrErr(ch.Copy)
	if err != nil {
		return err
	}
	if old.Out == nil && old.Missing == "" {
		return Inputf("%q is not out, nor is it missing", e.c.heading(ch.Copy))
	}
	cp := *old
	cp.Out, cp.Missing = nil, ""
	e.put(&cp)
	return nil
}

// Decide settles a split: which copy is to be first in each box. Boxes that
// the split needs and the shelf lacks are added, at the end or behind a box.
// Refiling then goes by it.
type Decide struct {
	Boxes  []NewBox    `json:"boxes,omitempty"` // to be added, one after another
	Firsts []NamedWall `json:"firsts"`
}

// NewBox is a box to be added.
type NewBox struct {
	BoxSpec
	After string `json:"after,omitempty"` // behind which box; empty: at the end
}

// NamedWall says that the box of that name begins at a copy.
type NamedWall struct {
	Box   string    `json:"box"`
	First Accession `json:"first"`
}

// Title implements Change.
func (ch *Decide) Title(*Collection) string {
	return "decided where " + words.Count(len(ch.Firsts), "box begins", "boxes begin")
}

func (ch *Decide) apply(e *editor) error {
	for _, b := range ch.Boxes {
		if err := e.furnish(b.After, []BoxSpec{b.BoxSpec}, nil); err != nil {
			return err
		}
	}
	w := &Walls{}
	for _, f := range ch.Firsts {
		b, err := e.c.shelf.BoxNamed(f.Box)
		if err != nil {
			return err
		}
		if _, err := e.copyOrErr(f.First); err != nil {
			return err
		}
		w.Firsts = append(w.Firsts, Wall{b.ID, f.First})
	}
	e.put(w)
	return nil
}
