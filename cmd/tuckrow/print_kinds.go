package main

import (
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/paper"
	"github.com/spf13/cobra"
)

// printed says which copies get an envelope label.
type printed struct {
	box, batch string
	copies     []int
}

// of lists them, in filing order.
func (x *printed) of(l *ordering.Layout) ([]model.Accession, error) {
	c := l.Collection()
	keep := func(*model.Copy) bool { return true }
	if x.box != "" {
		b, err := c.Shelf().BoxNamed(x.box)
		if err != nil {
			return nil, err
		}
		keep = func(cp *model.Copy) bool { at, _ := c.Standing(cp.Accession); return at.Box == b.ID }
	}
	batch := model.BatchID(0)
	if x.batch != "" {
		b := c.BatchNamed(x.batch)
		if b == nil {
			return nil, model.Inputf("there is no batch %q", x.batch)
		}
		batch = b.ID
	}
	for _, n := range x.copies {
		if c.Copy(model.Accession(n)) == nil {
			return nil, model.Inputf("there is no copy %d; look it up with: tuckrow find WORDS", n)
		}
	}
	var out []model.Accession
	for _, it := range l.Row() {
		cp := c.Copy(it.Copy)
		named := len(x.copies) == 0 || slices.Contains(x.copies, int(it.Copy))
		if named && keep(cp) && (batch == 0 || cp.Batch == batch) {
			out = append(out, it.Copy)
		}
	}
	return out, nil
}

func (p *printer) envelopes() *cobra.Command {
	var x printed
	var labels, on, code string
	o := paper.EnvelopeOptions{Start: 1}
	cmd := p.command("envelopes", "Envelope labels, on label sheets or straight on envelopes",
		`Prints a label for each copy that belongs in a box, in filing order: publisher,
number and size range large, name, category, and the accession number with a
code of it, which shelf reading takes. On a sheet that is used in part --start
says which label is the first one left, counted in lines from the top left.`,
		func(src paper.Source) (*paper.Work, error) {
			shelf := src.Layout.Collection().Shelf()
			preset := shelf.Settings.Printing.Full()
			copies, err := x.of(src.Layout)
			if err != nil {
				return nil, err
			}
			if o.Code, err = model.ParseCode(orElse(code, preset.Code)); err != nil {
				return nil, err
			}
			if o.Labels, err = shelf.LabelSheetNamed(orElse(labels, preset.Labels)); err != nil {
				return nil, err
			}
			if on != "" {
				e, err := model.EnvelopeNamed(on)
				if err != nil {
					return nil, err
				}
				o.On = &e
			}
			return paper.Envelopes(src, copies, o)
		})
	f := cmd.Flags()
	f.StringVar(&labels, "labels", "", `label sheet, by its grid: "A4 3x7", "A4 2x7", "A4 2x4", "Letter 3x10", or one of the shelf file`)
	f.IntVar(&o.Start, "start", o.Start, "first label that is left on the sheet")
	f.StringVar(&on, "on", "", "straight on envelopes instead: C5, C6, C4, 6x9 or 6.5x9.5")
	f.StringVar(&code, "code", "", "code128, qr or none (else as preset)")
	f.BoolVar(&o.Outline, "outline", false, "draw the edges of the labels, to try out on plain paper")
	f.StringVar(&x.box, "box", "", "only what stands in this box")
	f.StringVar(&x.batch, "batch", "", "only what came in with this batch")
	f.IntSliceVar(&x.copies, "copy", nil, "only these accession numbers")
	return p.changes(cmd, "only copies that have no envelope yet")
}

func orElse(given, preset string) string {
	if given != "" {
		return given
	}
	return preset
}

// cards adds the flags of what stands among envelopes.
func cards(cmd *cobra.Command, envelope *string, o *paper.CardOptions) {
	cmd.Flags().StringVar(envelope, "envelope", "", "the envelopes in the box (else as in the shelf file)")
	cmd.Flags().BoolVar(&o.Upright, "upright", false, "the envelopes stand on their short side")
	cmd.Flags().BoolVar(&o.Alone, "alone", false, "each card is a sheet of its own, for card cut to size")
}

func (p *printer) dividers() *cobra.Command {
	var envelope string
	var o paper.CardOptions
	cmd := p.command("dividers", "Divider cards: section, publisher, range, continued",
		`Prints the divider cards of the boxes as planned (see: tuckrow refile), in the
order in which they stand. The tab stands above the envelope tops, each further
to the right than the one before. Print on card, and cut along the line.`,
		func(src paper.Source) (w *paper.Work, err error) {
			if o.Envelope, err = envelopeOf(src, envelope); err != nil {
				return nil, err
			}
			return paper.Dividers(src, src.Layout.Target(), o)
		})
	cards(cmd, &envelope, &o)
	return p.changes(cmd, "only cards that stand nowhere yet; says which to move and which to take away")
}

func envelopeOf(src paper.Source, given string) (model.Paper, error) {
	return model.EnvelopeNamed(orElse(given, src.Layout.Collection().Shelf().Settings.Envelope))
}

func (p *printer) boxes() *cobra.Command {
	cmd := p.command("boxes", "Box labels: what is first and last, the sections in between",
		`Prints the labels of the boxes as planned (see: tuckrow refile), large enough to
be read from where one stands before the cupboard.`,
		func(src paper.Source) (*paper.Work, error) { return paper.BoxLabels(src, src.Layout.Target()) })
	return p.changes(cmd, "only labels that change; says which to take off")
}

func (p *printer) binders() *cobra.Command {
	o := paper.BinderOptions{Spine: 50}
	cmd := p.command("binders", "Binders: spine labels, index pages, tabs, pages for missing sleeves",
		`Prints what the catalogue binders need: labels for the spines, an index for each
binder, tabs to fold round the edge of a page, and for each sleeve that is
missing a page with a frame for a sketch.`,
		func(src paper.Source) (*paper.Work, error) {
			for i, text := range o.Tabs {
				o.Tabs[i] = words.Clean(text)
			}
			return paper.Binders(src, o)
		})
	cmd.Flags().Float64Var(&o.Spine, "spine", o.Spine, "how wide the spine labels are, in mm")
	cmd.Flags().StringSliceVar(&o.Tabs, "tabs", nil, "what the tabs of each binder say: coats,jackets (else its sub-dividers, or its publishers)")
	cmd.Flags().StringSliceVar(&o.Parts, "part", nil, "only these: spines, index, tabs, missing")
	return cmd
}

func (p *printer) outCards() *cobra.Command {
	var envelope string
	var o paper.CardOptions
	cmd := p.command("outcards", "Out cards for what is taken out",
		"Prints a card for each copy that is out, to stand in its place until it is back;\nbelow, lines to write on for the next time.",
		func(src paper.Source) (w *paper.Work, err error) {
			if o.Envelope, err = envelopeOf(src, envelope); err != nil {
				return nil, err
			}
			return paper.OutCards(src, o)
		})
	cards(cmd, &envelope, &o)
	return cmd
}
