package command

import (
	"github.com/spf13/cobra"

	"runnel/cmd/call"
)

// newCampus stands for what needs a disk.
func newCampus(call.Streams) *cobra.Command { return &cobra.Command{Use: "campus", Hidden: true} }

// newWorker stands for what needs a disk and a network.
func newWorker(call.Streams) *cobra.Command { return &cobra.Command{Use: "worker", Hidden: true} }

// views shows nothing: the page does.
func views(call.Streams) []*cobra.Command { return nil }
