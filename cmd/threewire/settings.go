package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"
)

// settings are what a shop writes down once for all of its reports.
type settings struct {
	shop, address, paper, style string
}

// settingNames lists the names of settings, as messages do.
const settingNames = "shop, address, paper or style"

// readSettings reads a settings file. Errors name file, line and what to do.
func readSettings(path string) (settings, error) {
	f, err := os.Open(path)
	if err != nil {
		return settings{}, fmt.Errorf("--settings: %w", err)
	}
	defer f.Close()
	return parseSettings(f, path)
}

// parseSettings reads one setting a line, as "name: text". Empty lines and
// lines that begin with # are passed over.
func parseSettings(r io.Reader, name string) (settings, error) {
	var s settings
	into := map[string]*string{"shop": &s.shop, "address": &s.address, "paper": &s.paper, "style": &s.style}
	seen := map[string]int{}
	sc := bufio.NewScanner(r)
	n := 0
	for sc.Scan() {
		n++
		raw := strings.TrimPrefix(sc.Text(), "\ufeff")
		line := strings.TrimSpace(raw)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		// wrong points at the first sign that is not blank, counted from 1.
		wrong := func(format string, a ...any) error {
			column := utf8.RuneCountInString(raw[:strings.Index(raw, line)]) + 1
			return fmt.Errorf("%s:%d:%d: %s", name, n, column, fmt.Sprintf(format, a...))
		}
		if !utf8.ValidString(line) {
			return settings{}, wrong("not UTF-8 text: save the settings as UTF-8")
		}
		key, value, ok := strings.Cut(line, ":")
		if !ok {
			return settings{}, wrong("found %q, expected NAME: TEXT (example: shop: My shop)", clip(line))
		}
		key, value = strings.ToLower(strings.TrimSpace(key)), strings.TrimSpace(value)
		to := into[key]
		switch {
		case to == nil:
			return settings{}, wrong("%q is no setting: expected %s", clip(key), settingNames)
		case seen[key] > 0:
			return settings{}, wrong("%s was set in line %d already: keep one of them", key, seen[key])
		case value == "":
			return settings{}, wrong("%s has no text: write some after the colon, or take the line out", key)
		case key == "paper" && !known(value, papers()):
			return settings{}, wrong("paper %q is unknown: expected %s", clip(value), either(papers()))
		case key == "style" && !known(value, reportStyles()):
			return settings{}, wrong("style %q is unknown: expected %s", clip(value), either(reportStyles()))
		}
		if key == "paper" || key == "style" {
			value = strings.ToLower(value)
		}
		*to, seen[key] = value, n
	}
	if err := sc.Err(); err != nil {
		return settings{}, fmt.Errorf("%s:%d: %w: is this a settings file?", name, n+1, err)
	}
	return s, nil
}

// clip shortens text quoted in a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}
