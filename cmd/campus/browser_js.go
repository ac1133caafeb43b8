package campus

import (
	"github.com/spf13/cobra"

	"runnel/cmd/call"
)

// New stands for what needs a disk.
func New(call.Streams) *cobra.Command { return &cobra.Command{Use: "campus", Hidden: true} }

// NewWorker stands for what needs a disk and a network.
func NewWorker(call.Streams) *cobra.Command { return &cobra.Command{Use: "worker", Hidden: true} }
