package themes

import "embed"

// Site holds what dresses the site: page templates (site/*.gohtml, html/template),
// the style sheet site/style.css and the script site/script.js.
//
//go:embed site/*.gohtml site/style.css site/script.js
var Site embed.FS
