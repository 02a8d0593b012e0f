package main

import (
	"runtime"
	"runtime/debug"
	"strings"

	"pinfold/plan/ledger"
	"pinfold/reports"
)

// release and released are what a release build sets with -ldflags "-X
// main.release=v1.2.3 -X main.released=2026-11-25": its version and its day.
var release, released string

// version is what the build calls itself: the release it was made as, or what Go
// recorded of the checkout, or "(devel)".
func version() string {
	if release != "" {
		return release
	}
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(devel)"
}

// day is when what was built was made, as far as the build knows: the release's day,
// or that of the commit Go recorded, or "".
func day() string {
	if released != "" {
		return released
	}
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if s.Key == "vcs.time" {
				day, _, _ := strings.Cut(s.Value, "T")
				return day
			}
		}
	}
	return ""
}

// schemas are the versions of the files that programs read. A plan and a stash have
// none: they are written by people too, and every version reads all that were before.
func schemas() []string {
	return []string{
		reports.Schema, reports.ShopSchema, reports.MakesSchema, reports.TradeSchema, reports.CostSchema,
		ledger.HistorySchema,
	}
}

// versionText is what --version says: one line each for program, Go and files.
func versionText() string {
	return version() + "\nbuilt with " + runtime.Version() + " for " + runtime.GOOS + "/" + runtime.GOARCH +
		"\nwrites " + strings.Join(schemas(), ", ")
}
