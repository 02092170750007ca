package slackchat

import _ "embed"

// Manifest makes the app in one paste. Its scopes and events are those of needs and events.
//
//go:embed manifest.yaml
var Manifest string

// needs are the scopes of the bot token, and what each is for.
// Source: docs.slack.dev, reference of methods and of events, seen second-hand.
var needs = map[string]string{
	"chat:write":       "posting cards, bringing them up to date, private hints",
	"channels:history": "hearing what is said in public channels, and reading what was missed there",
	"groups:history":   "the same in private channels",
	"im:history":       "the same in direct messages",
	"mpim:history":     "the same in direct messages of several people",
	"channels:read":    "looking whether it is in a public channel",
	"groups:read":      "the same for private channels",
	"im:read":          "the same for direct messages",
	"mpim:read":        "the same for direct messages of several people",
	"users:read":       "names, time zones and languages, and telling guests from the team",
	"usergroups:read":  "roles that are given to a user group",
	"files:read":       "photos of labels",
	"files:write":      "labels, records, charts and exports",
}

// events are what the app must be subscribed to.
var events = []string{"message.channels", "message.groups", "message.im", "message.mpim", "user_change"}
