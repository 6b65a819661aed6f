//go:build js && wasm

// Command wasm is the engine in the page: it puts one function into the worker
// that loads it, stallwright(name, asked), texts in and text out, and then stays.
package main

import (
	"runtime/debug"
	"syscall/js"

	"stallwright/app/page"
)

// collectAt lets the heap grow to three times what is in use before it is swept: a
// plan's memory is mostly thrown away at once, and somebody waits.
const collectAt = 200

func main() {
	debug.SetGCPercent(collectAt)
	js.Global().Set("stallwright", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 2 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString {
			return string(page.Answer("", nil))
		}
		return string(page.Answer(args[0].String(), []byte(args[1].String())))
	}))
	select {}
}
