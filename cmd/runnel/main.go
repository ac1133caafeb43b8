// Command runnel says of a low-slope roof where water goes, where it stays, how deep, how heavy and why.
package main

import (
	"os"

	"runnel/cmd/call"
	"runnel/cmd/command"
)

func main() { os.Exit(command.Main(os.Args[1:], call.System())) }
