//go:build js && wasm

// Command wasm is the engine in the page: it puts one function into the worker
// that loads it, stallwright(name, asked), texts in and text out, and then stays.
package main

import (
	"syscall/js"

	"stallwright/app/page"
)

func main() {
	js.Global().Set("stallwright", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 2 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString {
			return string(page.Answer("", nil))
		}
		return string(page.Answer(args[0].String(), []byte(args[1].String())))
	}))
	select {}
}
