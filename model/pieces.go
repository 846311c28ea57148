package model

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model/words"
)

// Print is what is said of a copy that was printed at home.
type Print struct {
	Pages     int    `json:"pages,omitempty" cbor:"1,keyasint,omitempty"`
	Paper     string `json:"paper,omitempty" cbor:"2,keyasint,omitempty"`
	Square    Length `json:"test_square_mm,omitempty" cbor:"3,keyasint,omitempty"` // side of the test square as printed; 0: not measured
	Assembled bool   `json:"assembled,omitempty" cbor:"4,keyasint,omitempty"`
	Version   string `json:"version,omitempty" cbor:"5,keyasint,omitempty"`        // of the file
	Side      Length `json:"square_side_mm,omitempty" cbor:"6,keyasint,omitempty"` // that the test square is to have; 0: not known
}

// ScaleOff is by how many thousandths of its side a test square is off, negative
// when it came out too small. It is false where none was measured, or it is not
// known what it should measure.
func (p Print) ScaleOff() (thousandths int, ok bool) {
	if p.Square == 0 || p.Side == 0 {
		return 0, false
	}
	return int((p.Square - p.Side) * 1000 / p.Side), true
}

// squareReads is how closely a ruler is read (our choice).
const squareReads = Millimetre / 2

// Scale says in words whether a print came out true to scale.
func (p Print) Scale() string {
	off, ok := p.ScaleOff()
	switch {
	case p.Square == 0:
		return "scale not checked"
	case !ok:
		return "test square measured, not known what it should be"
	case p.Square <= p.Side+squareReads && p.Square >= p.Side-squareReads:
		return "true to scale"
	}
	return fmt.Sprintf("off scale by %+.1f %%: print it anew", float64(off)/10)
}

// PieceState is what became of a piece of tissue.
type PieceState string

// The states of a piece.
const (
	PieceThere   PieceState = ""
	PieceTorn    PieceState = "torn"
	PieceTraced  PieceState = "traced" // a tracing stands in for it
	PieceMissing PieceState = "missing"
)

// Piece is a piece that was looked for.
type Piece struct {
	Name  string     `json:"name" cbor:"1,keyasint"`
	State PieceState `json:"state,omitempty" cbor:"2,keyasint,omitempty"`
}

// Pieces is what came of going through a copy piece by piece. A nil Pieces is
// that nobody has.
type Pieces struct {
	Found []Piece `json:"found,omitempty" cbor:"1,keyasint,omitempty"`
}

const (
	mostPieces   = 200 // far above what a pattern has
	pieceExample = `"front; back | torn; collar | missing"`
)

// ParsePieces reads the names of pieces, with semicolons between.
func ParsePieces(text string) ([]string, error) {
	var out []string
	for cell := range strings.SplitSeq(words.Clean(text), cellSign) {
		if cell = cleanCell(cell); cell != "" && !slices.Contains(out, cell) {
			out = append(out, cell)
		}
	}
	if len(out) > mostPieces {
		return nil, &FieldError{"pieces", text, "lists too many pieces", fmt.Sprintf("%d is the most", mostPieces)}
	}
	return out, nil
}

// ParseFound reads pieces that were looked for, each with its state behind a bar
// unless it is there; nothing is nil. The error is a *FieldError.
func ParseFound(text string) (*Pieces, error) {
	found, err := split("pieces_found", text, "write them like "+pieceExample, 2, mostPieces, func(p []string) (Piece, error) {
		state, err := oneOf("state of a piece", strings.TrimPrefix(strings.ToLower(p[1]), "there"), spell[PieceState], PieceThere, PieceTorn, PieceTraced, PieceMissing)
		if p[0] == "" {
			err = fmt.Errorf("a piece has no name")
		}
		return Piece{p[0], state}, err
	})
	if err != nil || len(found) == 0 {
		return nil, err
	}
	return &Pieces{found}, nil
}

// String writes pieces down as ParseFound reads them.
func (p *Pieces) String() string {
	if p == nil {
		return ""
	}
	return join(p.Found, func(x Piece) []string { return []string{x.Name, string(x.State)} })
}

// fault says what of pieces cannot be.
func (p *Pieces) fault() error {
	if p == nil {
		return nil
	}
	if len(p.Found) == 0 || len(p.Found) > mostPieces {
		return fmt.Errorf("%d pieces were found, and that is none or too many", len(p.Found))
	}
	for i, x := range p.Found {
		if x.Name == "" || x.Name != cleanCell(x.Name) || slices.ContainsFunc(p.Found[:i], func(y Piece) bool { return y.Name == x.Name }) {
			return fmt.Errorf("%q is no name of a piece, or there twice", x.Name)
		}
		if _, err := oneOf("state of a piece", string(x.State), spell[PieceState], PieceThere, PieceTorn, PieceTraced, PieceMissing); err != nil {
			return err
		}
	}
	return nil
}

func piecesFault(names []string) error {
	for i, n := range names {
		if n == "" || n != cleanCell(n) || slices.Contains(names[:i], n) || i >= mostPieces {
			return fmt.Errorf("%q is no name of a piece, or there twice, or one too many", n)
		}
	}
	return nil
}

// cleanPieces cleans what an entry says of pieces, and checks it. What the
// caller gave stays as it is.
func (en *Entry) cleanPieces() error {
	if len(en.Pieces) > 0 {
		var clean []string
		for _, n := range en.Pieces {
			clean = append(clean, cleanCell(n))
		}
		names, err := ParsePieces(strings.Join(clean, cellSign))
		if err != nil {
			return err
		}
		en.Pieces = names
	}
	if en.Found == nil {
		return nil
	}
	found := &Pieces{Found: slices.Clone(en.Found.Found)}
	for i := range found.Found {
		found.Found[i].Name = cleanCell(found.Found[i].Name)
	}
	if err := found.fault(); err != nil {
		return Inputf("%v; write pieces like %s", err, pieceExample)
	}
	en.Found = found
	return nil
}

// Tally is how complete a copy is, piece by piece.
type Tally struct {
	There, Torn, Traced, Missing []string
	Unseen                       []string // that the guide sheet lists and nobody has looked for
}

// TallyOf goes through the pieces of a copy. Pieces that only the copy names
// count too: guide sheets get lost.
func TallyOf(p *Pattern, cp *Copy) Tally {
	var t Tally
	seen := map[string]bool{}
	if cp.Pieces != nil {
		for _, x := range cp.Pieces.Found {
			seen[words.Fold(x.Name)] = true
			list := map[PieceState]*[]string{PieceThere: &t.There, PieceTorn: &t.Torn, PieceTraced: &t.Traced, PieceMissing: &t.Missing}[x.State]
			*list = append(*list, x.Name)
		}
	}
	for _, name := range p.Pieces {
		if !seen[words.Fold(name)] {
			t.Unseen = append(t.Unseen, name)
		}
	}
	return t
}

// Complete is what Copy.Complete says by a tally: "yes" when all is there or
// stands in, what is missing, or nothing as long as pieces are unseen.
func (t Tally) Complete() string {
	switch {
	case len(t.Missing) > 0:
		return strings.Join(t.Missing, ", ") + " missing"
	case len(t.Unseen) > 0 || len(t.There)+len(t.Torn)+len(t.Traced) == 0:
		return ""
	}
	return "yes"
}

// LookThrough notes what came of looking for pieces of a copy; what was found
// before and is not named stays as it was. It says by that whether the copy is
// complete.
type LookThrough struct {
	Copy   Accession `json:"copy"`
	Pieces []string  `json:"pieces,omitempty"` // of the guide sheet; empty: as noted
	Found  []Piece   `json:"found,omitempty"`
}

// Title implements Change.
func (ch *LookThrough) Title(c *Collection) string { return "looked through " + c.heading(ch.Copy) }

func (ch *LookThrough) apply(e *editor) error {
	old, err := e.copyOrErr(ch.Copy)
	if err != nil {
		return err
	}
	en := e.c.EntryOf(old)
	if len(ch.Pieces) > 0 {
		en.Pieces = ch.Pieces
	}
	var found []Piece
	if old.Pieces != nil {
		found = slices.Clone(old.Pieces.Found)
	}
	for _, x := range ch.Found {
		x.Name = cleanCell(x.Name)
		if i := slices.IndexFunc(found, func(y Piece) bool { return words.Fold(y.Name) == words.Fold(x.Name) }); i >= 0 {
			found[i].State = x.State
		} else {
			found = append(found, x)
		}
	}
	if len(found) > 0 {
		en.Found = &Pieces{found}
	}
	if err := en.cleanPieces(); err != nil {
		return err
	}
	p, cp := *e.c.Pattern(old.Pattern), *old
	p.Pieces, cp.Pieces = en.Pieces, en.Found
	cp.Complete = TallyOf(&p, &cp).Complete()
	e.put(&p)
	e.put(&cp)
	return nil
}
