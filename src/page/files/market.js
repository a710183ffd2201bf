// Copies a text at a touch; without this script it is marked and copied by hand.

for (const button of document.querySelectorAll("button[data-copies]")) {
  button.hidden = false;
  button.addEventListener("click", async () => {
    const text = document.getElementById(button.dataset.copies);
    const done = await copied(text);
    button.parentElement.querySelector("[role=status]").textContent = done
      ? "Copied. When it has gone out, touch “I have used these words”."
      : "The browser does not let this page copy; the text is marked, so copy it as you would elsewhere.";
  });
}

// Browsers let a page copy by itself only on its own computer; on a phone the text is marked and copied the older way.
async function copied(text) {
  try {
    await navigator.clipboard.writeText(text.value);
    return true;
  } catch {
    text.select();
    return document.execCommand("copy");
  }
}
