package surveyfile

// unwaited is nothing in a browser, which knows no pipes.
const unwaited = 0
