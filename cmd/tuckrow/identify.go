package main

import (
	"context"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// unknown is a pattern in the unidentified bin, in JSON.
type unknown struct {
	Pattern   model.PatternID `json:"pattern"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
	Year      int             `json:"year"`
	Looks     []openLook      `json:"looks"` // what is left to look at
	Dated     []string        `json:"dated"` // what its sizes say
}

type openLook struct {
	At    string   `json:"at"`
	For   string   `json:"for"`
	Tells string   `json:"tells"`
	Notes []string `json:"notes"` // the fields in which that is noted
}

func (a *app) identifyCommand() *cobra.Command {
	copyNo := 0
	cmd := &cobra.Command{
		Use:   "identify [WORDS] [FIELD=VALUE...]",
		Short: "What an old pattern is: the unidentified bin, and what to look at",
		Long: `Without words, lists the unidentified bin: what is of the publisher "not
known", or bears the tag "unidentified". With words or --copy, says what is left to
look at to identify and date one, what each look tells, and in which field it is
noted. The checklist is common practice and has no source; what a size 12 says of the
year is from published charts.

When it is known what it is, FIELD=VALUE says so: it leaves the bin, and is filed like
any other. So it does when "tuckrow change" gives another publisher than "not known".
A section of the shelf file with that tag gives the bin a place of its own.`,
		Example: "  tuckrow add publisher='not known' name='Long gown, nine pieces'\n  tuckrow identify\n  tuckrow identify long gown\n  tuckrow identify long gown publisher=Quillon number=900 year=1911 dated_by='copyright line'",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				l := s.Layout()
				if len(args) == 0 && copyNo == 0 {
					return a.bin(l)
				}
				words, given := nameAnd(args)
				cp, err := oneCopy(s, l, copyNo, words, anyCopy)
				if err != nil {
					return err
				}
				if len(given) > 0 {
					return a.identified(cmd.Context(), s, cp, given)
				}
				return a.identify(l.Collection(), l.Collection().PatternOf(cp))
			})
		},
	}
	cmd.Flags().IntVar(&copyNo, "copy", 0, "accession number of the copy")
	return a.reads(cmd)
}

// identified notes what was found out about a copy, which leaves the bin.
func (a *app) identified(ctx context.Context, s cupboard, cp model.Accession, given []string) error {
	if err := onlyCorrected(given); err != nil {
		return err
	}
	en := s.Collection().EntryOf(s.Collection().Copy(cp))
	if err := fill(&en, given); err != nil {
		return err
	}
	ch, err := identify.Known(en)
	if err != nil {
		return err
	}
	return a.commit(ctx, s, ch)
}

func unknownOf(c *model.Collection, p *model.Pattern) unknown {
	x := unknown{p.ID, c.Publisher(p.Publisher).Name, p.Number, p.Name, p.Year, []openLook{}, append([]string{}, identify.Dated(p)...)}
	for _, l := range identify.Open(c, p) {
		x.Looks = append(x.Looks, openLook(l))
	}
	return x
}

func (a *app) bin(l *ordering.Layout) error {
	c, out, rows := l.Collection(), []unknown{}, [][]string(nil)
	for _, p := range identify.Bin(c) {
		x := unknownOf(c, p)
		out = append(out, x)
		rows = append(rows, []string{x.Publisher, p.Heading(), strconv.Itoa(len(x.Looks)) + " to look at", strings.Join(x.Dated, "; ")})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(rows) == 0 {
		a.printf("the unidentified bin is empty; publisher='not known' or tags=unidentified puts something in.\n")
		return nil
	}
	a.prose(identify.Caution, "")
	a.printf("\n")
	return columns(a.out, rows)
}

func (a *app) identify(c *model.Collection, p *model.Pattern) error {
	x := unknownOf(c, p)
	if a.json {
		return a.printJSON(x)
	}
	a.prose(identify.Caution, "")
	a.printf("\n%s\n", c.Called(p.ID))
	for _, d := range x.Dated {
		a.prose("by its sizes: "+d+" (published charts)", "  ")
	}
	if len(x.Looks) == 0 {
		a.printf("  something is noted for each look\n")
		return nil
	}
	a.printf("to look at (common practice, no source):\n")
	for _, l := range x.Looks {
		a.prose(l.At+": "+l.For, "  ")
		a.prose("tells "+l.Tells+"; note it in "+strings.Join(l.Notes, ", "), "    ")
	}
	return nil
}
