package main

import (
	"context"
	"strconv"

	"example.org/tuckrow/model"
	"github.com/spf13/cobra"
)

// batchOf is one batch, in JSON.
type batchOf struct {
	Name         string     `json:"name"`
	Begun        model.Date `json:"begun"`
	Source       string     `json:"source"`
	Notes        string     `json:"notes"`
	Expected     int        `json:"expected"` // about so many, as the owner guessed; 0: not known
	Copies       int        `json:"copies"`
	Filed        int        `json:"filed"`
	Unidentified int        `json:"unidentified"`
}

func (a *app) batchesCommand() *cobra.Command {
	drop := false
	cmd := &cobra.Command{
		Use:   "batches [NAME FIELD=VALUE...]",
		Short: "What came in together, from whom, and how far it is filed",
		Long: `Lists the batches: when each was begun, from whom it came, how many copies of it
are listed, done (in their place, and the sleeve dealt with) and not identified yet.
With the name of a batch, source= and notes= say where it came from, and about= how
many copies it will be; a batch that is not there is begun, so that an inherited
collection can be noted before it is unpacked. Another name: tuckrow shelf rename batch OLD NEW. With --drop the batch
goes, and what is noted of it; its copies stay listed where they are, and belong to
no batch then. It is one step for undo.

Old paper can be mouldy or was kept with moth killer: keep it apart from the rest,
wear a dust mask and gloves, air it, and ask somebody who knows before anything is
done against either (common practice, no source; local advice comes first).`,
		Example: "  tuckrow batches 'aunt Maud' source='her niece' notes='smells of moth killer' about=300\n  tuckrow batches 'wrong drawer' --drop\n  tuckrow batches",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				switch {
				case drop && len(args) == 1:
					return a.commit(cmd.Context(), s, &model.DropBatch{Batch: args[0]})
				case drop:
					return model.Inputf("say which batch is to be dropped, and nothing else; see: %s --help", cmd.CommandPath())
				case len(args) == 0:
					return a.batches(s.Collection())
				}
				return a.setBatch(cmd.Context(), s, args[0], args[1:])
			})
		},
	}
	cmd.Flags().BoolVar(&drop, "drop", false, "take the batch off the list; its copies stay")
	return a.reads(cmd)
}

// setBatch notes what is said of a batch; what is not said stays as it was.
func (a *app) setBatch(ctx context.Context, s cupboard, name string, given []string) error {
	if len(given) == 0 {
		return model.Inputf("say what is to be known of the batch %q: source=, notes=, about=", name)
	}
	ch := model.SetBatch{Batch: name}
	if b := s.Collection().BatchNamed(name); b != nil {
		ch.Source, ch.Notes = b.Source, b.Notes
	}
	err := assign(given, map[string]func(string) error{"source": into(&ch.Source), "notes": into(&ch.Notes), "about": func(text string) error {
		about, err := model.ParseAbout(text)
		ch.About = &about
		return err
	}})
	if err != nil {
		return err
	}
	return a.commit(ctx, s, &ch)
}

func (a *app) batches(c *model.Collection) error {
	counts, out := c.BatchCounts(), []batchOf{}
	for _, b := range c.Batches().All() {
		n := counts[b.ID]
		out = append(out, batchOf{b.Name, b.Begun, b.Source, b.Notes, b.Expected, n.Copies, n.Filed, n.Unidentified})
	}
	if a.json {
		return a.printJSON(out)
	}
	rows := [][]string{{"batch", "begun", "listed", "done", "not identified", "from", ""}}
	for _, b := range out {
		listed, unknown := strconv.Itoa(b.Copies), ""
		if b.Expected > 0 {
			listed += " of about " + strconv.Itoa(b.Expected)
		}
		if b.Unidentified > 0 {
			unknown = strconv.Itoa(b.Unidentified)
		}
		rows = append(rows, []string{b.Name, string(b.Begun), listed, strconv.Itoa(b.Filed), unknown, b.Source, b.Notes})
	}
	if len(out) == 0 {
		a.printf("there is no batch; one is begun with the first copy entered into it.\n")
		return nil
	}
	return columns(a.out, rows)
}
