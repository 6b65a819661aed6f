// Command stallwright turns a job (what a farm wants and what a crew measured)
// and a kit (what a shop makes) into fitted, counted, drawn stalls and pens.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }
