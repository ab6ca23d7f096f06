"use strict";
(() => {
  document.documentElement.classList.add("live");

  for (const slide of document.querySelectorAll(".slide")) {
    const follow = () => slide.parentElement.style.setProperty("--at", `${slide.value}%`);
    slide.addEventListener("input", follow);
    follow();
  }

  const reply = document.getElementById("reply");
  const copied = document.getElementById("copied");
  for (const mark of document.querySelectorAll("input[name=choice]")) {
    mark.addEventListener("change", () => {
      const title = document.querySelector("h1").textContent;
      reply.value = `${title}: ${mark.dataset.reply}`;
      copied.textContent = "";
    });
  }

  // The older way, which a page that is a file may always go; the newer one may ask first, or never answer.
  document.getElementById("copy")?.addEventListener("click", () => {
    reply.select();
    copied.textContent = document.execCommand("copy") ? "copied" : "marked: copy it by hand";
  });
})();
