package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
	"example.org/tuckrow/storage/exchange"
)

// proposeCleaning shows what could be mended in a spreadsheet, and stores
// nothing.
func (a *app) proposeCleaning(ctx context.Context, s cupboard, path string, o importOptions) (err error) {
	told, f, err := a.spreadsheet(path, o.columns)
	if err != nil {
		return err
	}
	defer closing(f, &err)
	im, err := exchange.ReadToClean(newSteady(ctx, f), told, false)
	if stopped := ctx.Err(); stopped != nil {
		err = stopped
	}
	if err != nil {
		return importing(path, err)
	}
	a.sayColumns(im)
	all := im.Propose(s.Collection())
	a.sayDoubts(im)
	if len(all) == 0 {
		a.printf("there is nothing to mend; take it in with: tuckrow import %s\n", filepath.Base(path))
		return nil
	}
	if err := a.sayProposals(im, all); err != nil {
		return err
	}
	a.printf("nothing is stored. Take all of it with --take all, or some: --take 1,3-5 or --take %s.\n", joinKinds(all))
	return nil
}

// sayDoubts names numbers that may be none.
func (a *app) sayDoubts(im *exchange.Import) {
	for _, text := range im.Doubts() {
		a.printf("%s\n", text)
	}
}

func (a *app) sayProposals(im *exchange.Import, all []clean.Proposal) error {
	var rows [][]string
	for i, p := range all {
		lines := "line " + strconv.Itoa(im.Lines[p.Rows[0]])
		if n := len(p.Rows); n > 1 {
			lines = fmt.Sprintf("%d lines, from %s", n, lines)
		}
		for k, e := range p.Edits {
			row := []string{"", "", "", e.Field, fmt.Sprintf("%q", e.Was), "→", fmt.Sprintf("%q", e.Is), ""}
			if k == 0 {
				row[0], row[1], row[2], row[7] = strconv.Itoa(i+1), string(p.Kind), lines, p.Why
			}
			rows = append(rows, row)
		}
	}
	return columns(a.out, rows)
}

// joinKinds lists the kinds that there are among proposals.
func joinKinds(all []clean.Proposal) string {
	var kinds []string
	for _, k := range clean.Kinds() {
		if slices.ContainsFunc(all, func(p clean.Proposal) bool { return p.Kind == k }) {
			kinds = append(kinds, string(k))
		}
	}
	return strings.Join(kinds, ",")
}

// taken picks the proposals that the owner takes: all, kinds, numbers and ranges
// of numbers as they were shown.
func taken(list string, all []clean.Proposal) ([]clean.Proposal, error) {
	take := make([]bool, len(all))
	for part := range strings.SplitSeq(list, ",") {
		part = strings.TrimSpace(part)
		if part == "all" || slices.Contains(clean.Kinds(), clean.Kind(part)) {
			for i, p := range all {
				take[i] = take[i] || part == "all" || string(p.Kind) == part
			}
			continue
		}
		low, high, isRange := strings.Cut(part, "-")
		from, err := strconv.Atoi(low)
		to := from
		if err == nil && isRange {
			to, err = strconv.Atoi(high)
		}
		if err != nil || from < 1 || to < from || to > len(all) {
			return nil, model.Inputf("--take %q: %q is none of the %d proposals, nor a kind of them; see them with --clean, then write all, 1,3-5 or %s", list, part, len(all), joinKinds(all))
		}
		for i := from - 1; i < to; i++ {
			take[i] = true
		}
	}
	var out []clean.Proposal
	for i, p := range all {
		if take[i] {
			out = append(out, p)
		}
	}
	return out, nil
}
