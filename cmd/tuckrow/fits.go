package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/fit"
	"github.com/spf13/cobra"
)

// fitCopy is whether a copy fits, in JSON; lengths in mm.
type fitCopy struct {
	Accession model.Accession `json:"accession"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
	SizeRange string          `json:"size_range"`
	Verdict   fit.Verdict     `json:"verdict"`
	Sure      fit.Sure        `json:"sure"`
	Readings  []fitReading    `json:"readings"` // several where the year leaves open what the sizes mean
	Lacks     string          `json:"lacks"`    // what is not known
	Words     []string        `json:"words"`
}

type fitReading struct {
	Chart   fit.Source  `json:"chart"`
	Verdict fit.Verdict `json:"verdict"`
	Matches []fitMatch  `json:"matches"`
}

type fitMatch struct {
	Measure fit.Measure  `json:"measure"`
	Body    model.Length `json:"body_mm"`
	Size    string       `json:"size"` // the nearest; empty: too far from any
	Lower   string       `json:"lower"`
	Upper   string       `json:"upper"`
	Left    bool         `json:"left"`
}

// fitOrder is the order of answers: what fits first.
var fitOrder = []fit.Verdict{fit.Fits, fit.Blend, fit.Unknown, fit.No}

func (a *app) fitsCommand() *cobra.Command {
	var who, by string
	all := false
	cmd := &cobra.Command{
		Use:   "fits WORDS --who NAME",
		Short: "Which patterns fit somebody?",
		Long: `Says which size by bust, waist and hip, between which two, whether it is still left
after cutting, and how sure that is: by the sleeve's own chart (field
size_chart), else by the misses' table, which a publisher need not have kept to.
What a size number of an unknown year means is not known. Without words it looks
through everything. What does not fit is left out unless --all is given or words
are.`,
		Example: "  tuckrow fits --who Ada harrow wrap dress\n  tuckrow fits --who Ada --by waist,hip skirt",
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				p, err := personNamed(s.Collection(), who)
				if err != nil {
					return err
				}
				measures, err := fit.ParseMeasures(by)
				if err != nil {
					return fmt.Errorf("--by %w", err)
				}
				return a.fits(s, p, strings.Join(args, " "), measures, all)
			})
		},
	}
	cmd.Flags().StringVar(&who, "who", "", "whom it is to fit (required)")
	cmd.Flags().StringVar(&by, "by", "", "only by these measures: bust, waist, hip")
	cmd.Flags().BoolVar(&all, "all", false, "also what does not fit")
	return a.reads(cmd)
}

func (a *app) fits(s cupboard, who *model.Person, words string, by []fit.Measure, all bool) error {
	c, out, x := s.Collection(), []fitCopy{}, s.Index()
	for _, p := range patternsFor(s, words) {
		for _, cp := range x.Copies(p.ID) {
			answer := fit.Try(who, p, c.Copy(cp), by)
			if answer.Verdict == fit.No && words == "" && !all {
				continue
			}
			out = append(out, fitCopyOf(c, cp, answer))
		}
	}
	slices.SortStableFunc(out, func(a, b fitCopy) int {
		return cmp.Compare(slices.Index(fitOrder, a.Verdict), slices.Index(fitOrder, b.Verdict))
	})
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("nothing fits %s, as far as is known.\n", who.Name)
	}
	var rows [][]string
	for _, f := range out {
		rows = append(rows, []string{string(f.Verdict), f.Publisher, f.Number, f.Name, f.SizeRange, strings.Join(f.Words, "; ")})
	}
	return columns(a.out, rows)
}

func fitCopyOf(c *model.Collection, cp model.Accession, answer fit.Answer) fitCopy {
	p := c.PatternOf(cp)
	f := fitCopy{Accession: cp, Publisher: c.Publisher(p.Publisher).Name, Number: p.Number, Name: p.Name, SizeRange: p.SizeRange,
		Verdict: answer.Verdict, Sure: answer.Sure, Readings: []fitReading{}, Lacks: answer.Lacks, Words: answer.Words(c.Shelf().Settings)}
	for _, r := range answer.Readings {
		reading := fitReading{r.Chart.Source, r.Verdict, []fitMatch{}}
		for _, m := range r.Matches {
			reading.Matches = append(reading.Matches, fitMatch(m))
		}
		f.Readings = append(f.Readings, reading)
	}
	return f
}
