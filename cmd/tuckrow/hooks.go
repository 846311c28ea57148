package main

import (
	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// hookHeld is one hook, in the JSON of hooks.
type hookHeld struct {
	Row   string     `json:"row"` // empty: of a row to be got
	Hook  int        `json:"hook"`
	Each  int        `json:"each"` // patterns that it holds
	New   bool       `json:"new"`
	Items []hookItem `json:"items"`
}

// hookItem is what is to hang on a hook; lengths in mm.
type hookItem struct {
	named
	Hangs     string       `json:"hangs"` // where it hangs now; empty: nowhere yet
	Medium    model.Medium `json:"medium"`
	Pages     int          `json:"pages"`
	Paper     string       `json:"paper"`
	Square    model.Length `json:"test_square_mm"`
	Side      model.Length `json:"square_side_mm"`
	Scale     string       `json:"scale"` // of what was printed at home
	Assembled bool         `json:"assembled"`
	Version   string       `json:"version"`
}

func (a *app) hooksCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "hooks",
		Short: "What hangs on which hook, and what is known of each print",
		Long: `Lists the hooks as planned, in filing order, so many on each, and where something
hangs on another one now: what was printed at home, traced or drafted. Of a print
it says pages, paper, whether it came out true to scale by its test square, whether
it is assembled, and the version of the file.
All of that is noted with: tuckrow change WORDS pages=32 test_square_mm=99.5
square_side_mm=100 assembled=yes version=2.1, and where it hangs with hook=.`,
		Example: "  tuckrow hooks",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return a.withShelf(a.hooks) },
	})
}

func (a *app) hooks(l *ordering.Layout) error {
	c, out, rows := l.Collection(), []hookHeld{}, [][]string(nil)
	for _, h := range l.Hooks() {
		x := hookHeld{h.Row.Name, h.N, h.Row.Each, h.New, []hookItem{}}
		for _, it := range h.Items {
			cp := c.Copy(it.Copy)
			p := cp.Print
			item := hookItem{nameOf(c, it.Copy), c.HookText(cp.Hook), cp.Medium, p.Pages, p.Paper, p.Square, p.Side, "", p.Assembled, p.Version}
			if cp.Medium == model.Printed {
				item.Scale = p.Scale()
			}
			x.Items = append(x.Items, item)
			rows = append(rows, []string{h.Name(), h.Note(item.Hangs), item.Publisher, it.Pattern.Heading(), string(cp.Medium), cp.PrintText()})
		}
		out = append(out, x)
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(rows) == 0 {
		a.printf("nothing hangs.\n")
	}
	if elsewhere, waiting := l.Unhung(); elsewhere+waiting > 0 {
		a.printf("each stands with the hook on which it would hang if all hung in filing order.\n")
	}
	return columns(a.out, rows)
}
