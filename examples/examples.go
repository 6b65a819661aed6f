// Package examples holds example jobs, all invented.
package examples

import (
	_ "embed"
	"strings"
)

// Demo is the demo farm's job document.
//
//go:embed three-meadows.yaml
var Demo string

// What the demo shop keeps: names as jobs write them, and texts.
const (
	PricesName = "fernhollow-prices.yaml"
	YardName   = "mill-lane-yard.yaml"
)

var (
	// Prices is the demo shop's price book.
	//
	//go:embed shop/fernhollow-prices.yaml
	Prices string
	// Yard is the list of the demo shop's lumber yard.
	//
	//go:embed shop/mill-lane-yard.yaml
	Yard string
)

// DemoInShop is the demo farm's job where there is the demo shop: its boards come
// from the yard's list, and it is priced by the price book.
func DemoInShop() string {
	return strings.NewReplacer(
		"kit: fernhollow\n", "kit: fernhollow\nprices: "+PricesName+"\n",
		"lengths: [8', 10', 12', 14', 16']\n", "yard: "+YardName+"\n",
	).Replace(Demo)
}
