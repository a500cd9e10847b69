// What valid HTML is here, for html-validate.
export const rules = {
  root: true,
  extends: ["html-validate:standard", "html-validate:a11y"],
  rules: {
    // How the source looks, not what it says.
    "no-trailing-whitespace": "off",
    "void-style": "off",
    "doctype-style": "off",
    "attribute-boolean-style": "off",
    "attribute-empty-style": "off",
    // Titles name the page and the boat; a long name of either is no fault of the page.
    "long-title": "off",
    // Ids are made from names of files, which may begin with a digit.
    "valid-id": ["error", { relaxed: true }],
    // Regions that scroll must be reachable with the keyboard.
    "no-redundant-role": "error",
  },
};
