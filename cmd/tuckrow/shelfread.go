package main

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/reading"
	"github.com/spf13/cobra"
)

// readBox is the JSON of shelfread.
type readBox struct {
	Box      string     `json:"box"`
	Findings []readItem `json:"findings"`
	Missing  []named    `json:"missing"`
	Out      []named    `json:"out"`      // out, and not found, as it should be
	Recorded bool       `json:"recorded"` // the box is recorded as it was found
}

// readItem is one reading. Kind is in place, misplaced, unlisted, ambiguous,
// again or gap.
type readItem struct {
	Item    int          `json:"item"`
	Read    string       `json:"read"`
	Kind    reading.Kind `json:"kind"`
	Copy    *named       `json:"copy,omitempty"`
	Belongs string       `json:"belongs,omitempty"`
	Fits    bool         `json:"fits_by_filing,omitempty"`
	WasOut  bool         `json:"was_out,omitempty"`
	Could   []named      `json:"could_be,omitempty"`
}

// named says which copy is meant.
type named struct {
	Accession model.Accession `json:"accession"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
}

// reader is what the flags of shelfread say.
type reader struct {
	box              string
	accessions, done bool
}

func (a *app) shelfReadCommand() *cobra.Command {
	var r reader
	cmd := &cobra.Command{
		Use:   "shelfread --box B [FILE]",
		Short: "Compare a box with what a walk through it finds",
		Long: `Reads what stands in a box, front to back, one envelope a line: its accession
number as "#412", or its number as printed, with the beginning of the publisher
before it where needed, or its name if it has no number. A line "-", or an empty
one, is a gap or an out card. Without FILE, or with "-", it reads what is typed,
up to ctrl+d.

It says what is missing, what stands elsewhere than recorded and where it
belongs, what is on no list, and what is there though recorded as out. With
--done it records the box as it was found: what is missing is noted so (tuckrow
out lists it) until it turns up, in another box maybe; what is on no list must
be added first.`,
		Example: "  tuckrow shelfread --box 2 walk.txt\n  tuckrow shelfread --box 2 --done < walk.txt",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return model.Inputf("a box is read from one file, not from %d; see: %s --help", len(args), cmd.CommandPath())
			}
			if r.box == "" {
				return model.Inputf("say which box was read, with --box; see: %s --help", cmd.CommandPath())
			}
			return a.withStore(func(s cupboard) error {
				lines, err := a.walk(append(args, "-")[0])
				if err != nil {
					return err
				}
				return a.shelfRead(cmd.Context(), s, r, lines)
			})
		},
	}
	cmd.Flags().StringVar(&r.box, "box", "", "the box that was read")
	cmd.Flags().BoolVar(&r.accessions, "accessions", false, "bare numbers are accession numbers")
	cmd.Flags().BoolVar(&r.done, "done", false, "record the box as it was found")
	return a.reads(cmd)
}

// walk reads the lines of a file, or what is typed, without empty ones at the
// end.
func (a *app) walk(name string) (lines []string, err error) {
	in := a.input()
	if name != "-" {
		f, err := a.files.Open(name)
		if err != nil {
			return nil, fmt.Errorf("reading what was found: %w", err)
		}
		defer closing(f, &err)
		in = f
	}
	scan := bufio.NewScanner(in)
	for scan.Scan() {
		lines = append(lines, strings.TrimSpace(scan.Text()))
	}
	if err := scan.Err(); errors.Is(err, context.Canceled) {
		return nil, fmt.Errorf("reading what was found: %w", errStopped)
	} else if err != nil {
		return nil, model.Inputf("reading what was found, behind line %d: %v; give one envelope a line", len(lines), err)
	}
	for len(lines) > 0 && lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	return lines, nil
}

func (a *app) shelfRead(ctx context.Context, s cupboard, r reader, lines []string) error {
	l := s.Layout()
	box, err := l.Collection().Shelf().BoxNamed(r.box)
	if err != nil {
		return err
	}
	walk := reading.New(l, box)
	for _, line := range lines {
		if _, err := strconv.ParseUint(line, 10, 32); err == nil && r.accessions {
			line = "#" + line
		}
		walk.Take(line)
	}
	rep := walk.Report()
	ch, refused := rep.Record()
	if r.done && refused == nil {
		if _, err := s.Commit(ctx, recorded(ch, rep)); err != nil {
			return err
		}
	}
	done := r.done && refused == nil
	if err := a.sayReport(l.Collection(), rep, done); err != nil {
		return err
	}
	switch {
	case refused != nil && (r.done || len(lines) == 0):
		return refused
	case !a.json && ch == nil && refused == nil:
		a.printf("the box stands as recorded.\n")
	case !a.json && done:
		a.printf("recorded as found. Where it is not in order, tuckrow refile says what to do.\n")
	}
	return nil
}

func (a *app) sayReport(c *model.Collection, rep *reading.Report, recorded bool) error {
	if a.json {
		return a.printJSON(reportOf(c, rep, recorded))
	}
	var rows [][]string
	row := func(what, item, about string, cp model.Accession) {
		who, title := "", ""
		if cp != 0 {
			n := nameOf(c, cp)
			who, title = n.Publisher, c.PatternOf(cp).Heading()
		}
		rows = append(rows, []string{what, item, who, title, about})
	}
	for _, f := range rep.Findings {
		if what, about := remark(c, f); what != "" {
			row(what, strconv.Itoa(f.Item), about, f.Copy)
		}
	}
	for _, m := range rep.Missing {
		row("missing", "", fmt.Sprintf("#%d; recorded here, not found", m), m)
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	a.printf("box %s: %d read, %d in place, %d misplaced, %d missing, %d unlisted, %d ambiguous, %d out.\n", rep.Box.Name, len(rep.Findings)-len(rep.Of(reading.Gap)),
		len(rep.Of(reading.InPlace)), len(rep.Of(reading.Misplaced)), len(rep.Missing), len(rep.Of(reading.Unlisted)), len(rep.Of(reading.Ambiguous)), len(rep.Out))
	return nil
}

// remark says what a finding is worth saying; nothing of what is as it should
// be.
func remark(c *model.Collection, f reading.Finding) (what, about string) {
	switch {
	case f.Kind == reading.Misplaced && f.Fits:
		what, about = "misplaced", "recorded otherwise, but in filing order it stands right: leave it"
	case f.Kind == reading.Misplaced:
		what, about = "misplaced", "belongs: "+f.Belongs
	case f.Kind == reading.Unlisted:
		return "unlisted", fmt.Sprintf("%q is on no list, or on none any more; enter it with: tuckrow add", f.Read)
	case f.Kind == reading.Again:
		return "again", fmt.Sprintf("%q was read before", f.Read)
	case f.Kind == reading.Gap && f.Copy == 0:
		return "gap", "nothing is out from here"
	case f.Kind == reading.Ambiguous:
		var could []string
		for _, cp := range f.Could {
			n := nameOf(c, cp)
			could = append(could, fmt.Sprintf("#%d %s %s", cp, n.Publisher, cmp.Or(n.Number, n.Name)))
		}
		return "ambiguous", fmt.Sprintf("%q can be %s; read it by its accession number", f.Read, strings.Join(could, ", "))
	}
	if f.WasOut && f.Kind != reading.Gap {
		what, about = cmp.Or(what, "back"), strings.TrimPrefix(about+"; it is recorded as out", "; ")
	}
	return what, about
}

func nameOf(c *model.Collection, a model.Accession) named {
	p := c.PatternOf(a)
	return named{a, c.Publisher(p.Publisher).Name, p.Number, p.Name}
}

func namesOf(c *model.Collection, list []model.Accession) []named {
	out := []named{}
	for _, a := range list {
		out = append(out, nameOf(c, a))
	}
	return out
}

func reportOf(c *model.Collection, rep *reading.Report, recorded bool) readBox {
	out := readBox{Box: rep.Box.Name, Findings: []readItem{}, Missing: namesOf(c, rep.Missing), Out: namesOf(c, rep.Out), Recorded: recorded}
	for _, f := range rep.Findings {
		x := readItem{Item: f.Item, Read: f.Read, Kind: f.Kind, Belongs: f.Belongs, Fits: f.Fits, WasOut: f.WasOut}
		if f.Copy != 0 {
			n := nameOf(c, f.Copy)
			x.Copy = &n
		}
		if len(f.Could) > 0 {
			x.Could = namesOf(c, f.Could)
		}
		out.Findings = append(out.Findings, x)
	}
	return out
}
