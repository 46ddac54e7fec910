// Builds elements; text is always text, never markup.
export const el = (tag, properties = {}, ...children) => {
  const made = Object.assign(document.createElement(tag), properties);
  made.append(...children.filter((child) => child !== null && child !== undefined && child !== ""));
  return made;
};

export const mark = (text) => el("span", { className: "mark-no" }, text);
