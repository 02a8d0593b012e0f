package main

import (
	"runtime"
	"runtime/debug"
	"strings"

	"pinfold/reports"
)

// release is the version a release build sets with -ldflags "-X main.release=v1.2.3".
var release string

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

// schemas are the versions of the files that other programs read.
func schemas() []string {
	return []string{
		reports.Schema, reports.ShopSchema, reports.MakesSchema, reports.TradeSchema, reports.CostSchema,
	}
}

// versionText is what --version says: one line each for program, Go and files.
func versionText() string {
	return version() + "\nbuilt with " + runtime.Version() + " for " + runtime.GOOS + "/" + runtime.GOARCH +
		"\nwrites " + strings.Join(schemas(), ", ")
}
