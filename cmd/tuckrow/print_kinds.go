package main

import (
	"example.org/tuckrow/storage/paper"
	"github.com/spf13/cobra"
)

func (p *printer) envelopes() *cobra.Command {
	cmd, o := p.command(paper.EnvelopesKind, "Envelope labels, on label sheets or straight on envelopes",
		`Prints a label for each copy that belongs in a box, in filing order: publisher,
number and size range large, name, category, and the accession number with a
code of it, which shelf reading takes. On a sheet that is used in part --start
says which label is the first one left, counted in lines from the top left.`)
	f := cmd.Flags()
	f.StringVar(&o.Labels, "labels", "", `label sheet, by its grid: "A4 3x7", "A4 2x7", "A4 2x4", "Letter 3x10", or one of the shelf file`)
	f.IntVar(&o.Start, "start", 1, "first label that is left on the sheet")
	f.StringVar(&o.On, "on", "", "straight on envelopes instead: C5, C6, C4, 6x9 or 6.5x9.5")
	f.StringVar(&o.Code, "code", "", "code128, qr or none (else as preset)")
	f.BoolVar(&o.Outline, "outline", false, "draw the edges of the labels, to try out on plain paper")
	f.StringVar(&o.Box, "box", "", "only what stands in this box")
	f.StringVar(&o.Batch, "batch", "", "only what came in with this batch")
	f.IntSliceVar(&o.Copies, "copy", nil, "only these accession numbers")
	return p.changes(cmd, "only copies that have no envelope yet")
}

// cards adds the flags of what stands among envelopes.
func cards(cmd *cobra.Command, o *paper.Order) {
	cmd.Flags().StringVar(&o.Envelope, "envelope", "", "the envelopes in the box (else as in the shelf file)")
	cmd.Flags().BoolVar(&o.Upright, "upright", false, "the envelopes stand on their short side")
	cmd.Flags().BoolVar(&o.Alone, "alone", false, "each card is a sheet of its own, for card cut to size")
}

func (p *printer) dividers() *cobra.Command {
	cmd, o := p.command(paper.DividersKind, "Divider cards: section, publisher, range, continued",
		`Prints the divider cards of the boxes as planned (see: tuckrow refile), in the
order in which they stand. The tab stands above the envelope tops, each further
to the right than the one before. Print on card, and cut along the line.`)
	cards(cmd, o)
	return p.changes(cmd, "only cards that stand nowhere yet; says which to move and which to take away")
}

func (p *printer) boxes() *cobra.Command {
	cmd, _ := p.command(paper.BoxesKind, "Box labels: what is first and last, the sections in between",
		`Prints the labels of the boxes as planned (see: tuckrow refile), large enough to
be read from where one stands before the cupboard.`)
	return p.changes(cmd, "only labels that change; says which to take off")
}

func (p *printer) binders() *cobra.Command {
	cmd, order := p.command(paper.BindersKind, "Binders: spine labels, index pages, tabs, pages for missing sleeves",
		`Prints what the catalogue binders need: labels for the spines, an index for each
binder, tabs to fold round the edge of a page, and for each sleeve that is
missing a page with a frame for a sketch. Which labels and pages a binder has is
not on record, so there is no --only-new here; --part leaves out what is still
right.`)
	o := &order.Binders
	cmd.Flags().Float64Var(&o.Spine, "spine", paper.SpineWidth, "how wide the spine labels are, in mm")
	cmd.Flags().StringSliceVar(&o.Tabs, "tabs", nil, "what the tabs of each binder say: coats,jackets (else its sub-dividers, or its publishers)")
	cmd.Flags().StringSliceVar(&o.Parts, "part", nil, "only these: spines, index, tabs, missing")
	return cmd
}

func (p *printer) dummies() *cobra.Command {
	cmd, o := p.command(paper.DummiesKind, "Dummies for what is oversize",
		`Prints a card for each copy that is oversize, to stand in its place in the boxes
for good: what it is, and in which box it lies. Print on card.`)
	cards(cmd, o)
	return p.changes(cmd, "only dummies that stand nowhere yet")
}

func (p *printer) outCards() *cobra.Command {
	cmd, o := p.command(paper.OutCardsKind, "Out cards for what is taken out",
		"Prints a card for each copy that is out, to stand in its place until it is back;\nbelow, lines to write on for the next time. Which cards there are is not on\nrecord, so there is no --only-new here: a card is written on and used again.")
	cards(cmd, o)
	return cmd
}

func (p *printer) list(kind paper.Kind, short, long string) *cobra.Command {
	cmd, _ := p.command(kind, short, long)
	return cmd
}
