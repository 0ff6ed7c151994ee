// The rules of HTML that the built page is held to, and why two recommended ones are not among them.

export default {
  root: true,
  extends: ["html-validate:recommended"],
  rules: {
    "doctype-style": "off", // a matter of taste: the standard takes either case
    "wcag/h32": "off", // the form has nothing to send: answers follow each field as it changes
  },
};
