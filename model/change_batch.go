package model

import (
	"cmp"
	"strconv"

	"example.org/tuckrow/model/words"
)

// Expect notes about how many copies a batch will be: "about 120 in this
// drawer". It begins the batch if there is none of that name.
type Expect struct {
	Batch string `json:"batch"`
	About int    `json:"about"` // 0: not known
}

// Title implements Change.
func (ch *Expect) Title(*Collection) string {
	if ch.About == 0 {
		return "noted that nobody knows how many lie in " + words.Clean(ch.Batch)
	}
	return "noted about " + strconv.Itoa(ch.About) + " in " + words.Clean(ch.Batch)
}

func (ch *Expect) apply(e *editor) error {
	name := words.Clean(ch.Batch)
	if name == "" {
		return &FieldError{"batch", "", "is missing", "say which drawer or parcel it is, in the field Batch"}
	}
	if err := guessed(ch.About); err != nil {
		return err
	}
	b := *e.c.Batch(e.batch(name))
	b.Expected = ch.About
	e.put(&b)
	return nil
}

func guessed(about int) error {
	if about < 0 || about > highest {
		return &FieldError{"about", strconv.Itoa(about), "is not a number of patterns", "give a guess in digits, like 120"}
	}
	return nil
}

// ParseAbout reads a guess of how many copies a batch will be; nothing is 0, not
// known.
func ParseAbout(text string) (int, error) {
	n, err := strconv.Atoi(cmp.Or(words.Clean(text), "0"))
	if err != nil || n < 0 {
		return 0, Inputf("%q is not a number of patterns; give a guess in digits, like 120", text)
	}
	return n, nil
}

// SetBatch says where a batch came from, and what else is to be known of it. It
// begins the batch if there is none of that name.
type SetBatch struct {
	Batch  string `json:"batch"`
	Source string `json:"source,omitempty"` // from whom, or where it was bought
	Notes  string `json:"notes,omitempty"`
	About  *int   `json:"about,omitempty"` // copies that it will be, a guess, 0: not known; nil: as it was
}

// Title implements Change.
func (ch *SetBatch) Title(*Collection) string {
	return "noted where " + words.Clean(ch.Batch) + " came from"
}

func (ch *SetBatch) apply(e *editor) error {
	name, source, notes := ch.Batch, ch.Source, ch.Notes
	cleanAll(&name, &source, &notes)
	if name == "" {
		return &FieldError{"batch", "", "is missing", "say which drawer or parcel it is"}
	}
	b := *e.c.Batch(e.batch(name))
	b.Source, b.Notes = source, notes
	if ch.About != nil {
		if err := guessed(*ch.About); err != nil {
			return err
		}
		b.Expected = *ch.About
	}
	e.put(&b)
	return nil
}

// DropBatch takes a batch off the list. Its copies stay listed as they are, and
// belong to no batch any more.
type DropBatch struct {
	Batch string `json:"batch"`
}

// Title implements Change.
func (ch *DropBatch) Title(c *Collection) string {
	n := 0
	if b := c.BatchNamed(ch.Batch); b != nil {
		n = c.BatchCounts()[b.ID].Copies
	}
	return "dropped the batch " + words.Clean(ch.Batch) + "; " + words.Count(n, "copy stays", "copies stay") + " listed"
}

func (ch *DropBatch) apply(e *editor) error {
	b := e.c.BatchNamed(ch.Batch)
	if b == nil {
		return Rename{Kind: NamedBatch, Old: words.Clean(ch.Batch)}.notThere(e.c.called(NamedBatch))
	}
	for _, old := range e.from.copies.All() {
		if old.Batch == b.ID {
			cp := *old
			cp.Batch = 0
			e.put(&cp)
		}
	}
	e.drop(KindBatch, uint32(b.ID))
	return nil
}
