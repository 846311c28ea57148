package main

import (
	"context"
	"slices"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
	"github.com/spf13/cobra"
)

// splitPlan is the JSON of split; lengths in mm. Contents of all boxes one
// after another are the filing order.
type splitPlan struct {
	Goal          ordering.Goal `json:"goal"`
	Boxes         []splitBox    `json:"boxes"`
	BoxesUsed     int           `json:"boxes_used"`
	Moved         int           `json:"moved"`
	LabelsChanged int           `json:"labels_changed"`
	Findings      []string      `json:"findings,omitempty"`
}

type splitBox struct {
	Box      string            `json:"box"`
	New      bool              `json:"new"`
	Usable   model.Length      `json:"usable_mm"`
	Load     model.Length      `json:"load_mm"`
	Overfull bool              `json:"overfull,omitempty"`
	Label    string            `json:"label"`
	Contents []model.Accession `json:"contents"`
	Cards    []splitCard       `json:"cards"`
}

type splitCard struct {
	Before    model.Accession   `json:"before"`
	Kind      ordering.CardKind `json:"kind"`
	Text      string            `json:"text"`
	Thickness model.Length      `json:"thickness_mm"`
}

func (a *app) splitCommand() *cobra.Command {
	goal, apply, answer := string(ordering.Fewest), false, ""
	var o ordering.Options
	cmd := &cobra.Command{
		Use:   "split",
		Short: "Where boxes should begin and end",
		Long: `Plans where boxes begin and end, the pile included, with room to work left in
each. The plan can be looked at before any label is printed; --apply decides on
it, and refile then says how to get there.

Goals: fewest (no more boxes than must be); even (the fewest boxes, the fullest
as little full as can be, then all as alike as can be; --growth leaves room for
what so many months will bring, section by section, going by the last year;
--boxes spreads it over more boxes than must be); least-moved (the fewest
envelopes change box, then the fewest labels are redone, then the fewest boxes). A
locked box keeps its label; where that cannot be, the plan says so.

When a pile makes a box spill, --answer all shows the three ways of taking it in
side by side: push-on, insert (a new box in between), afresh (as even as can be).`,
		Example: "  tuckrow split\n  tuckrow split --goal even --growth 12\n  tuckrow split --goal even --boxes 6\n  tuckrow split --goal least-moved --apply\n  tuckrow split --answer all",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := checkSplit(goal, answer, o); err != nil {
				return err
			}
			return a.withStore(func(s cupboard) error {
				l := s.Layout()
				if answer == allAnswers {
					return a.answers(l)
				}
				plan, decision, err := planOf(l, answer, ordering.Goal(goal), o)
				if err != nil {
					return err
				}
				if err := a.split(l, &plan); err != nil || !apply {
					return err
				}
				return a.decide(cmd.Context(), s, &plan, decision)
			})
		},
	}
	cmd.Flags().StringVar(&goal, "goal", goal, "what the split is to be best at: fewest, even or least-moved")
	cmd.Flags().IntVar(&o.GrowthMonths, "growth", 0, "with --goal even: leave room for so many months")
	cmd.Flags().IntVar(&o.Boxes, "boxes", 0, "with --goal even: spread over so many boxes (0: as few as can be)")
	cmd.Flags().StringVar(&answer, "answer", answer, "how to take the pile in: push-on, insert, afresh; all shows them side by side")
	cmd.Flags().BoolVar(&apply, "apply", false, "decide on this split")
	return a.reads(cmd)
}

// planOf gives the plan that was asked for: an answer to a spill, or a split by
// its goal.
func planOf(l *ordering.Layout, answer string, goal ordering.Goal, o ordering.Options) (ordering.Plan, *model.Decide, error) {
	if answer != "" {
		x, err := answerNamed(l, answer)
		return x.Plan, x.Decision(), err
	}
	p := l.SplitWith(goal, o)
	return p, p.Decision(), nil
}

// decide settles a plan.
func (a *app) decide(ctx context.Context, s cupboard, p *ordering.Plan, decision *model.Decide) error {
	if p.Used() == 0 {
		return model.Inputf("there is nothing to split yet; enter patterns first")
	}
	if _, err := s.Commit(ctx, decision); err != nil {
		return err
	}
	if !a.json {
		a.printf("decided; tuckrow refile says what to pull and where to put it.\n")
	}
	return nil
}

// checkSplit tells whether a goal, and what it is to reckon with, can be asked
// for.
func checkSplit(goal, answer string, o ordering.Options) error {
	even := ordering.Goal(goal) == ordering.Even && answer == ""
	switch {
	case !slices.Contains(ordering.Goals(), ordering.Goal(goal)):
		return model.Inputf("--goal %q is not known; use fewest, even or least-moved", goal)
	case o.GrowthMonths < 0 || o.GrowthMonths > ordering.MostGrowth:
		return model.Inputf("--growth %d is not a number of months to plan for; give 0 to %d", o.GrowthMonths, ordering.MostGrowth)
	case o.Boxes < 0:
		return model.Inputf("--boxes %d is not a number of boxes; give how many are to be used, or 0 for as few as can be", o.Boxes)
	case o.GrowthMonths > 0 && !even:
		return model.Inputf("--growth %d does nothing with %s; use it with --goal even", o.GrowthMonths, asked(goal, answer))
	case o.Boxes > 0 && !even:
		return model.Inputf("--boxes %d does nothing with %s; use it with --goal even", o.Boxes, asked(goal, answer))
	}
	return nil
}

// asked is what was asked for, as it was written.
func asked(goal, answer string) string {
	if answer != "" {
		return "--answer " + strconv.Quote(answer)
	}
	return "--goal " + strconv.Quote(goal)
}

func (a *app) split(l *ordering.Layout, p *ordering.Plan) error {
	d := l.Compare(*p)
	d.Labels = len(l.Redo(*p).Labels) // of those on record
	if a.json {
		return a.printJSON(splitOf(l, p, d))
	}
	units := unitsOf(l.Collection())
	rows := [][]string{{"box", "label", "envelopes", "cards", "filled", "free", ""}}
	for i := range p.Boxes {
		h := &p.Boxes[i]
		note := ""
		switch {
		case h.Overfull():
			note = "overfull"
		case h.New:
			note = "new box"
		}
		rows = append(rows, []string{h.Box.Name, l.Label(h), strconv.Itoa(len(h.Items)), strconv.Itoa(len(h.Cards())), h.Load.In(units), h.Free().In(units), note})
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	for _, f := range p.Findings {
		a.printf("note: %s.\n", f)
	}
	a.printf("%s used, %s.\n", words.Count(p.Used(), "box", "boxes"), changing(d))
	a.prose(moving.Caution(moving.Fullest(p.Boxes)), "")
	return nil
}

// changing says what a plan changes in the boxes.
func changing(d ordering.Difference) string {
	return words.Count(d.Moved, "envelope changes box", "envelopes change box") + ", " + words.Count(d.Labels, "label changes", "labels change")
}

func splitOf(l *ordering.Layout, p *ordering.Plan, d ordering.Difference) splitPlan {
	out := splitPlan{Goal: p.Goal, Boxes: []splitBox{}, BoxesUsed: p.Used(), Moved: d.Moved, LabelsChanged: d.Labels, Findings: p.Findings}
	for i := range p.Boxes {
		h := &p.Boxes[i]
		b := splitBox{h.Box.Name, h.New, h.Usable, h.Load, h.Overfull(), l.Label(h), h.Contents(), []splitCard{}}
		for _, c := range h.Cards() {
			b.Cards = append(b.Cards, splitCard{c.Before, c.Kind, c.Text, c.Thickness})
		}
		out.Boxes = append(out.Boxes, b)
	}
	return out
}
