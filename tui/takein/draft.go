package takein

import (
	"encoding/json"
	"fmt"
	"hash/fnv"
	"strings"

	"example.org/tuckrow/model/clean"
	"example.org/tuckrow/storage/exchange"
)

// draft is what is chosen of a file that is not taken in yet, as it is kept while the
// program is closed. The file itself is read again, and may have changed meanwhile:
// so columns go by their headings, and proposals by all that they say.
type draft struct {
	Format  int               `json:"format"`
	File    string            `json:"file"`            // as it was named
	Columns map[string]string `json:"columns"`         // what each is told to be, by its heading
	Batch   string            `json:"batch,omitempty"` // of all rows
	Taken   []uint64          `json:"taken,omitempty"` // proposals, by their signs
}

const draftFormat = 1

// Draft gives what is chosen, to be kept; nothing where nothing is, or all is stored.
// It tells whether that can be something else than what it gave last.
func (s *Sheet) Draft() (text []byte, altered bool) {
	altered, s.altered = s.altered, false
	switch {
	case s.stage == told:
		s.kept = draft{}
	case s.table != nil:
		d := draft{Format: draftFormat, File: s.typed, Columns: s.told(), Batch: s.form.Value(batchLabel)}
		for _, p := range taken(s.proposals, s.take) {
			d.Taken = append(d.Taken, s.sign(&p))
		}
		if s.take == nil && s.kept.File == d.File { // not looked for again yet
			d.Taken = s.kept.Taken
		}
		s.kept = d
	}
	if s.kept.File == "" {
		return nil, altered
	}
	text, err := json.Marshal(s.kept)
	if err != nil {
		return nil, altered // texts and numbers alone: it cannot be
	}
	return text, altered
}

// Recall takes up what was kept. What cannot be read is left alone.
func (s *Sheet) Recall(text []byte) {
	var d draft
	if json.Unmarshal(text, &d) == nil && d.Format == draftFormat {
		s.kept = d
		s.picker.Set(d.File)
	}
}

// recalled is what a column was told to be in the file that was kept, if it was.
func (s *Sheet) recalled(heading string) (is string, ok bool) {
	key := map[string]string{}
	exchange.Tell(key, heading, "")
	for k := range key {
		is, ok = s.kept.Columns[k]
	}
	return is, ok && s.kept.File == s.typed
}

// batch is what all rows were to be called in the file that was kept.
func (s *Sheet) batch() string {
	if s.kept.File != s.typed {
		return ""
	}
	return s.kept.Batch
}

// sign stands for a proposal: what it alters, and in which lines.
func (s *Sheet) sign(p *clean.Proposal) uint64 {
	h := fnv.New64a()
	for _, i := range p.Rows {
		fmt.Fprintf(h, "%d ", s.lines[i])
	}
	for _, e := range p.Edits {
		fmt.Fprintf(h, "%s\x1f", strings.Join([]string{e.Field, e.Was, e.Is}, "\x1f"))
	}
	return h.Sum64()
}

// retake takes the proposals that were taken before.
func (s *Sheet) retake() {
	if s.kept.File != s.typed {
		return
	}
	was := map[uint64]bool{}
	for _, sign := range s.kept.Taken {
		was[sign] = true
	}
	for i := range s.proposals {
		s.take[i] = was[s.sign(&s.proposals[i])]
	}
	s.count()
}
