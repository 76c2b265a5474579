package org.equiphase;

import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.Optional;
import org.junit.jupiter.api.Assumptions;
import org.openqa.selenium.By;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.support.ui.Select;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Headless Chromium on the service's pages. */
public final class Browser implements AutoCloseable {

  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final Duration LOOK_EVERY = Duration.ofMillis(50);

  public final ChromeDriver driver;
  private final String url;

  private Browser(ChromeDriver driver, String url) {
    this.driver = driver;
    this.url = url;
  }

  /** Opens the browser; without Chromium the test is skipped, except where CI should have it. */
  public static Browser open(String url) {
    Optional<File> chromium = onPath("chromium");
    Optional<File> chromedriver = onPath("chromedriver");
    Assumptions.assumeTrue(
        (chromium.isPresent() && chromedriver.isPresent()) || System.getenv("CI") != null,
        "install Chromium and ChromeDriver to run the browser tests");
    ChromeOptions options = new ChromeOptions();
    options.setBinary(chromium.orElseThrow());
    options.addArguments(
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--disable-dev-shm-usage",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--window-size=1280,800");
    ChromeDriverService service =
        new ChromeDriverService.Builder()
            .usingDriverExecutable(chromedriver.orElseThrow())
            .usingAnyFreePort()
            .build();
    ChromeDriver driver = new ChromeDriver(service, options);
    driver.manage().timeouts().pageLoadTimeout(PATIENCE);
    return new Browser(driver, url);
  }

  public void signIn(String username) {
    driver.manage().deleteAllCookies();
    go("/sign-in");
    type("username", username);
    type("password", RunningService.PASSWORD);
    find("main form button[type=submit]").click();
    await("header form button");
  }

  public void go(String path) {
    driver.get(url + path);
  }

  public WebElement find(String css) {
    return driver.findElement(By.cssSelector(css));
  }

  /** Waits for an element of the next page. */
  public WebElement await(String css) {
    return waiting()
        .until(d -> d.findElements(By.cssSelector(css)).stream().findFirst().orElse(null));
  }

  /** Submits a form by its button and waits until the answer is there. */
  public void submit(String buttonCss) {
    By part =
        By.cssSelector(driver.findElements(By.cssSelector("#work")).isEmpty() ? "html" : "#work");
    WebElement before = driver.findElement(part);
    find(buttonCss).click();
    waiting().until(d -> d.findElements(part).stream().noneMatch(before::equals));
    await("main");
  }

  public void type(String name, String text) {
    WebElement input = find("main :is(input, textarea)[name=" + name + "]");
    input.clear();
    input.sendKeys(text);
  }

  public void choose(String name, String text) {
    new Select(find("main select[name=" + name + "]")).selectByVisibleText(text);
  }

  public String text(String css) {
    return find(css).getText();
  }

  public String cookies() {
    StringBuilder header = new StringBuilder();
    driver
        .manage()
        .getCookies()
        .forEach(c -> header.append(c.getName()).append('=').append(c.getValue()).append("; "));
    return header.toString();
  }

  @Override
  public void close() {
    driver.quit();
  }

  /** Waits for what a page will show, and looks often: the half second of the default adds up. */
  public WebDriverWait waiting() {
    WebDriverWait waiting = new WebDriverWait(driver, PATIENCE, LOOK_EVERY);
    // A page that is renewed between finding and reading is looked at again.
    waiting.ignoring(StaleElementReferenceException.class);
    return waiting;
  }

  private static Optional<File> onPath(String program) {
    return Arrays.stream(System.getenv("PATH").split(File.pathSeparator))
        .map(folder -> Path.of(folder, program))
        .filter(Files::isExecutable)
        .map(Path::toFile)
        .findFirst();
  }
}
