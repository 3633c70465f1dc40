package source

import "plansheaf/design/finding"

// Rules is every rule that reading may report, in the order of their names.
func Rules() []finding.Rule {
	return []finding.Rule{
		badChoice, badFormula, badID, badList, badTable, badText, badValue, duplicateKey, emptyValue, fileUnread,
		idClash, inputMissing, inputSuperfluous, invalidEncoding, keysThatExclude, missingField, missingFile, nothingFound, optionMissing, quoteThis, referenceCycle, saleToldTwice, symlink, tooDeep,
		tooLarge, tooManyFiles, tooManyFindings, unknownKey, unknownReference, unknownWord, unreadableFile,
		unsafeLink, wrongKind, yamlFeature, yamlSyntax,
	}
}

// Each rule's text is its documentation. What belongs to one place only (the
// nearest known name, the line as it should read) stands in the finding's own
// remedy.
var (
	badChoice = finding.Rule{
		Name: "bad-choice", Severity: finding.Error,
		Reason: "A choice without at least two options, or whose default is none of them, cannot be offered to a builder.",
		Remedy: "give the choice two or more options and make one of them the default",
	}
	badFormula = finding.Rule{
		Name: "bad-formula", Severity: finding.Error,
		Reason: "A quantity that cannot be read leaves everything that follows from it unknown.",
		Remedy: "write a number with its unit, such as 12 mm, or a formula over names and numbers",
	}
	badID = finding.Rule{
		Name: "bad-id", Severity: finding.Error,
		Reason: "Ids become names in formulas, links and file names; all three must be able to spell them.",
		Remedy: "begin with a small letter and go on with small letters, digits and underscores",
	}
	badList = finding.Rule{
		Name: "bad-list", Severity: finding.Error,
		Reason: "A parts list that cannot be read is compared with nothing, and what it has wrong stays.",
		Remedy: "name the columns as the list's first row does, and let each row have a name and a whole count",
	}
	badTable = finding.Rule{
		Name: "bad-table", Severity: finding.Error,
		Reason: "A table that cannot be read gives a calculation nothing to look up.",
		Remedy: "write a first row of names with units, such as speed [rpm], and rows of as many numbers",
	}
	badText = finding.Rule{
		Name: "bad-text", Severity: finding.Error,
		Reason: "A text that goes past what a page can hold, or a brace that is never closed, cannot be printed as meant.",
		Remedy: "shorten the text, or close the brace",
	}
	badValue = finding.Rule{
		Name: "bad-value", Severity: finding.Error,
		Reason: "A date, a whole number or a code with another form means something else to each reader.",
		Remedy: "write it in the form that the key asks for",
	}
	duplicateKey = finding.Rule{
		Name: "duplicate-key", Severity: finding.Error,
		Reason: "Of two equal keys one would win unseen, and the other's content would be lost.",
		Remedy: "keep one of the two, or give the second another name",
	}
	emptyValue = finding.Rule{
		Name: "empty-value", Severity: finding.Error,
		Reason: "A key with nothing behind it was begun and not finished.",
		Remedy: "give it a value, or take the key out",
	}
	fileUnread = finding.Rule{
		Name: "file-unread", Severity: finding.Warning,
		Reason: "A file that the plan's format has no place for is read by nobody; what it says is missing from the plan.",
		Remedy: "move it to where its kind of file stands, put it under files/, or take it out",
	}
	idClash = finding.Rule{
		Name: "id-clash", Severity: finding.Error,
		Reason: "Parts, assemblies, stock, calculations and values are named plainly everywhere; one name must mean one thing.",
		Remedy: "rename one of the two",
	}
	inputMissing = finding.Rule{
		Name: "input-missing", Severity: finding.Error,
		Reason: "The calculation that this one is made from cannot be worked out without the input.",
		Remedy: "give the input, by the name that it has there",
	}
	inputSuperfluous = finding.Rule{
		Name: "input-superfluous", Severity: finding.Error,
		Reason: "The author means it to count, and nothing takes it in: the result is another one than is believed.",
		Remedy: "give it the name of an input, name it in a formula, or take it out",
	}
	invalidEncoding = finding.Rule{
		Name: "invalid-encoding", Severity: finding.Error,
		Reason: "Bytes that are no UTF-8 text, and characters that cannot be seen, are shown in a different way by each program.",
		Remedy: "save the file as UTF-8 without control or text-direction characters",
	}
	keysThatExclude = finding.Rule{
		Name: "keys-that-exclude", Severity: finding.Error,
		Reason: "Of two keys that say the same thing in two ways, only one can hold.",
		Remedy: "keep one of them",
	}
	missingField = finding.Rule{
		Name: "missing-field", Severity: finding.Error,
		Reason: "Without it the thing cannot be drawn, listed or built.",
		Remedy: "add the key",
	}
	missingFile = finding.Rule{
		Name: "missing-file", Severity: finding.Error,
		Reason: "A builder would meet an empty frame or a dead link.",
		Remedy: "put the file under files/, or name another",
	}
	nothingFound = finding.Rule{
		Name: "nothing-found", Severity: finding.Error,
		Reason: "A calculation without a result tells nobody anything.",
		Remedy: "say under find what comes out, or from what calculation it is made: from: power_screw",
	}
	optionMissing = finding.Rule{
		Name: "option-missing", Severity: finding.Error,
		Reason: "A builder who picks an option without a value would have nothing to build.",
		Remedy: "give a value for every option of the choice",
	}
	quoteThis = finding.Rule{
		Name: "quote-this", Severity: finding.Error,
		Reason: "In a one-line map a comma or a colon ends the text before it; the rest becomes a key that nobody wrote.",
		Remedy: "put the text in quotes",
	}
	referenceCycle = finding.Rule{
		Name: "reference-cycle", Severity: finding.Error,
		Reason: "What needs itself can never be begun.",
		Remedy: "break the circle at one of its places",
	}
	saleToldTwice = finding.Rule{
		Name: "sale-told-twice", Severity: finding.Error,
		Reason: "Of two prices for one thing from one supplier only one can be right.",
		Remedy: "keep the entry in suppliers.yaml, or the part's own",
	}
	symlink = finding.Rule{
		Name: "symlink", Severity: finding.Error,
		Reason: "A link, device or pipe may lead outside the plan, and is not there when the plan is copied.",
		Remedy: "put the file itself in its place",
	}
	tooDeep = finding.Rule{
		Name: "too-deep", Severity: finding.Error,
		Reason: "Nesting beyond any plan's need is refused, so that no file can exhaust the reader.",
		Remedy: "nest less deeply",
	}
	tooLarge = finding.Rule{
		Name: "too-large", Severity: finding.Error,
		Reason: "What is larger than any plan's need is refused, so that no file can exhaust the reader.",
		Remedy: "split it or make it smaller",
	}
	tooManyFiles = finding.Rule{
		Name: "too-many-files", Severity: finding.Error,
		Reason: "More files than any plan needs are refused, so that no directory can exhaust the reader.",
		Remedy: "keep only what a builder needs, or pack what belongs together",
	}
	tooManyFindings = finding.Rule{
		Name: "too-many-findings", Severity: finding.Error,
		Reason: "After so many findings in one file the rest would only bury the first.",
		Remedy: "mend the first ones and check again",
	}
	unknownKey = finding.Rule{
		Name: "unknown-key", Severity: finding.Error,
		Reason: "A key that the format does not know is read by nobody; what it says would be missing from the plan.",
		Remedy: "use a key of the format, or put a property of your own under has",
	}
	unknownReference = finding.Rule{
		Name: "unknown-reference", Severity: finding.Error,
		Reason: "A name that nothing answers to sends the builder looking for a thing that is not there.",
		Remedy: "name something that the plan holds, or add it",
	}
	unknownWord = finding.Rule{
		Name: "unknown-word", Severity: finding.Error,
		Reason: "Where the format offers a list of words, any other has no meaning.",
		Remedy: "use one of the words offered",
	}
	unreadableFile = finding.Rule{
		Name: "unreadable-file", Severity: finding.Error,
		Reason: "A file that the system will not let us read is missing from the plan.",
		Remedy: "see to its permissions and its name",
	}
	unsafeLink = finding.Rule{
		Name: "unsafe-link", Severity: finding.Error,
		Reason: "A link that runs a program or reaches into the reader's own machine has no place in a plan for strangers.",
		Remedy: "link to an http, https or mailto address, a page or a file of the plan",
	}
	wrongKind = finding.Rule{
		Name: "wrong-kind", Severity: finding.Error,
		Reason: "A list where one value belongs, or text where a map belongs, cannot be read as either.",
		Remedy: "write the kind of value that the key takes",
	}
	yamlFeature = finding.Rule{
		Name: "yaml-feature", Severity: finding.Error,
		Reason: "Anchors, aliases, merge keys, tags, directives and second documents make a file say something other than what stands there.",
		Remedy: "write the value out where it is used",
	}
	yamlSyntax = finding.Rule{
		Name: "yaml-syntax", Severity: finding.Error,
		Reason: "What YAML cannot take apart is not read at all.",
		Remedy: "mend the line; quotes, indentation and brackets are the usual causes",
	}
)
