package main

import (
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

// Completion is silent: where nothing can be read it offers nothing.

func (a *app) garmentQuietly() *pattern.Garment {
	p, err := a.locate()
	if err != nil {
		return nil
	}
	l, _, err := p.load(text.NewLoader(), a.defaultSpec(p))
	if err != nil {
		return nil
	}
	return l.folder.Garment
}

func (a *app) completeSeams(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	g := a.garmentQuietly()
	if g == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return seamNames(g), cobra.ShellCompDirectiveNoFileComp
}

// completeFirstSeam offers seams for the first word only.
func (a *app) completeFirstSeam(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return a.completeSeams(c, args, word)
}

func (a *app) completePieces(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	g := a.garmentQuietly()
	if g == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var names []string
	for _, p := range g.Pieces {
		names = append(names, p.Name)
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}

// completeParts offers pieces, and once a piece is typed with its point, what it
// is made of.
func (a *app) completeParts(_ *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	g := a.garmentQuietly()
	if g == nil || len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var names []string
	for _, p := range g.Pieces {
		names = append(names, p.Name)
		if strings.HasPrefix(word, p.Name+".") {
			for i := range p.Edges {
				names = append(names, p.Name+"."+p.Edges[i].Name)
			}
			for i := range p.Corners {
				names = append(names, p.Name+"."+p.Corners[i].Name)
			}
		}
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}

func (a *app) completeVersions(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	names := []string{"HEAD", "index", "work"}
	if p, err := a.locate(); err == nil && p.repo != nil {
		if tags, err := p.repo.Tags(); err == nil {
			for _, list := range tags {
				names = append(names, list...)
			}
		}
	}
	sort.Strings(names)
	return names, cobra.ShellCompDirectiveNoFileComp
}

// completeFittings offers the fittings that are kept here, for the first word only.
func (a *app) completeFittings(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	p, err := a.locate()
	if err != nil || len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	snap, err := p.snapshot(a.defaultSpec(p))
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	names, _ := text.FittingNames(snap, p.dir)
	return names, cobra.ShellCompDirectiveNoFileComp
}
