package main

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/storage/paper"
	"github.com/spf13/cobra"
)

// printer is what all of print's commands are told.
type printer struct {
	*app
	as, paper, out string
	onlyNew        bool
	replace        bool
	since          string
	tape           paper.TapeOptions
}

func (a *app) printCommand() *cobra.Command {
	p := &printer{app: a, as: "pdf"}
	cmd := &cobra.Command{
		Use:   "print",
		Short: "Labels, cards and lists, as PDF, plain text or for a tape printer",
		Long: `Prints what gets stuck on, stood in or carried along. PDF goes into a file or a
pipe; print it at 100 %, not fitted to the page: the rule on each sheet must
measure 50 mm.

A text too long for its place is set smaller, then shortened; it stands in full
in an index behind the last sheet. What is preset (paper, label sheet, code)
stands in the shelf file under [print].`,
		Example: "  tuckrow print envelopes --only-new --start 5 --out labels.pdf\n  tuckrow print boxes --only-new --out boxes.pdf\n  tuckrow print carry --as text\n  tuckrow print binders --as tape --tape 12",
		Args:    noArgs,
		RunE:    func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	flags := cmd.PersistentFlags()
	flags.StringVar(&p.as, "as", p.as, "pdf, text, or tape: one label a line with its length")
	flags.StringVar(&p.paper, "paper", "", "A4, Letter or A3 (else as preset)")
	flags.StringVar(&p.out, "out", "", "file to write (else the output)")
	flags.BoolVar(&p.replace, "replace", false, "let it take the place of a file that is there")
	flags.Float64Var(&p.tape.Height, "tape", paper.TapeHeight, "with --as tape: how high the tape is, in mm")
	flags.Float64Var(&p.tape.Most, "longest", 0, "with --as tape: how long a label may be, in mm; 0: as long as it gets")
	cmd.AddCommand(p.envelopes(), p.dividers(), p.boxes(), p.binders(), p.outCards(), p.dummies(),
		p.list(paper.CarryKind, "The list to have at hand in a shop", "Everything owned by publisher and number, dense, on sheets that fold into a strip;\nas text never wider than 32 columns, for a phone."),
		p.list(paper.ShelfListKind, "Everything in the order in which it stands", "Everything in the order in which it stands, box by box."),
		p.list(paper.PackingKind, "What goes into which box for a move, and about what it weighs", "What goes into which box for a move, and about what it weighs."),
		p.list(paper.InsuranceKind, "Every copy with its state and value, for an insurer", "Lists every copy with its state, and with what it is worth by its own value or its\ngroup; where it has neither, the column is left to be filled in."),
		p.list(paper.WalkKind, "The refiling, as a sheet to tick", "What to pull and where to put it (see: tuckrow refile), as a sheet to tick."))
	return cmd
}

// command is one of print's commands, and the order that its flags fill.
func (p *printer) command(kind paper.Kind, short, long string) (*cobra.Command, *paper.Order) {
	order := &paper.Order{Kind: kind}
	return &cobra.Command{
		Use:     string(kind),
		Short:   short,
		Long:    long,
		Example: fmt.Sprintf("  tuckrow print %s --out %s.pdf", kind, kind),
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			return p.withShelf(func(l *ordering.Layout) error {
				src, err := p.source(l)
				if err != nil {
					return err
				}
				w, err := order.Work(src)
				if err != nil {
					return err
				}
				return p.print(w)
			})
		},
	}, order
}

// changes adds the flags for printing only what changed.
func (p *printer) changes(cmd *cobra.Command, what string) *cobra.Command {
	cmd.Flags().BoolVar(&p.onlyNew, "only-new", false, what)
	cmd.Flags().StringVar(&p.since, "since", "", "with --only-new: against the cupboard in this export (JSON Lines), not against the labels and cards that there are")
	return cmd
}

// source is what is printed from, and on what paper.
func (p *printer) source(l *ordering.Layout) (paper.Source, error) {
	src := paper.Source{Layout: l, Date: model.Date(time.Now().Format(time.DateOnly)), OnlyNew: p.onlyNew}
	name := p.paper
	if name == "" {
		name = l.Collection().Shelf().Settings.Printing.Full().Paper
	}
	var err error
	if src.Paper, err = model.PaperNamed(name); err != nil || p.since == "" {
		return src, err
	}
	if !p.onlyNew {
		return src, model.Inputf("--since says what --only-new compares with; give both")
	}
	f, err := p.files.Open(p.since)
	if err != nil {
		return src, model.Inputf("the export %q cannot be read: %v", p.since, err)
	}
	defer f.Close()
	c, err := exchange.ReadJSONL(f)
	if err != nil {
		return src, fmt.Errorf("the export %q: %w", p.since, err)
	}
	src.Before = ordering.Arrange(c)
	return src, nil
}

// print writes a work as it was asked for, then says what there is to know.
func (p *printer) print(w *paper.Work) error {
	var b bytes.Buffer
	var r paper.Report
	var err error
	switch {
	case w.Count == 0:
		p.sayChanges(p.app.out, w)
		return nil
	case p.as == "text":
		err = w.Text(&b)
	case p.as == "tape":
		r, err = w.Tape(&b, p.tape)
	case p.as == "pdf" && p.out == "" && isTerminal(p.app.out):
		return model.Inputf("a PDF is nothing for a terminal; say where it goes: --out labels.pdf, or use --as text")
	case p.as == "pdf":
		r, err = w.PDF(&b)
	default:
		return model.Inputf("--as %q is not known; use pdf, text or tape", p.as)
	}
	if err != nil {
		return err
	}
	if err := p.exportTo(p.out, p.replace, func(out io.Writer) error { _, err := b.WriteTo(out); return err }); err != nil {
		return err
	}
	p.say(w, &r)
	return nil
}

// say tells, beside the output, what came of printing.
func (p *printer) say(w *paper.Work, r *paper.Report) {
	errs := p.app.err
	if r.Sheets > 0 {
		sheets := "sheets"
		if r.Sheets == 1 {
			sheets = "sheet"
		}
		fmt.Fprintf(errs, "%s: %d on %d %s. Print at 100 %%, not fitted to the page; the rule must measure 50 mm.\n", w.Title, w.Count, r.Sheets, sheets)
	}
	if n := len(r.Short); n > 0 {
		where := "; in full on the last sheet, for which plain paper will do"
		if r.Sheets == 0 {
			where = ""
		}
		fmt.Fprintf(errs, "%s shortened%s; the first: %q\n", words.Count(n, "did not go in whole and was", "did not go in whole and were"), where, r.Short[0].Text)
	}
	if r.Missing != "" {
		fmt.Fprintf(errs, "no font here has %q; a box stands for each\n", r.Missing)
	}
	if r.Uncoded > 0 {
		fmt.Fprintf(errs, "%s none; use --code qr or none, or larger labels\n", words.Count(r.Uncoded, "label is too small for a code that can be read and has", "labels are too small for a code that can be read and have"))
	}
	p.sayChanges(errs, w)
}

func (p *printer) sayChanges(out io.Writer, w *paper.Work) {
	for _, x := range w.Move {
		fmt.Fprintf(out, "move %s\n", x)
	}
	for _, x := range w.Remove {
		fmt.Fprintf(out, "take off %s\n", x)
	}
}
