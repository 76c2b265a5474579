package org.equiphase.release;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.Browser;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.WindowType;
import org.openqa.selenium.interactions.Actions;

/** QA releases a set in Chromium, others run into its lock, and QA withdraws the release. */
class ReleaseBrowserTest {

  private static final String SIGN = "form[action*='/release/sets/'] button[type=submit]";
  private static final String WITHDRAW = "form[action$='/withdrawal'] button[type=submit]";
  private static final String LOCKED =
      "belongs to a released set: it is locked until QA withdraws the release";

  private static RunningService service;
  private static Browser browser;

  private ReleaseShop shop;

  @BeforeAll
  static void open() {
    service = RunningService.empty();
    browser = Browser.open(service.url());
    browser.signIn(RunningService.username(Role.QA));
  }

  @AfterAll
  static void close() {
    if (browser != null) {
      browser.close();
    }
  }

  @BeforeEach
  void newSet() {
    shop = ReleaseShop.matched(service);
  }

  @Test
  void releasedFromTheSetsPageWithItsCertificate() throws Exception {
    browser.go("/sets/" + shop.setId);
    assertThat(browser.text("h1")).contains("MATCHED");
    browser.submit("a[href='/release/sets/" + shop.setId + "']");
    assertThat(browser.text("main")).contains("Nothing: the set can be released.");
    assertThat(browser.text(".caution")).contains("until QA withdraws the release");

    browser.type("remark", "packed by position");
    browser.type("password", "not the password");
    browser.submit(SIGN);
    assertThat(browser.text(".field.bad .error")).contains("nothing was signed");
    assertThat(browser.find("[name=remark]").getDomProperty("value"))
        .isEqualTo("packed by position");
    browser.type("password", RunningService.PASSWORD);
    browser.submit(SIGN);

    assertThat(browser.text("h1")).contains("Certificate of match", "in force");
    assertThat(browser.text("main")).contains("Demo QA (qa)", "packed by position");
    String number = browser.text("h1").replaceAll("(?s)^Certificate of match (\\S+).*", "$1");
    String sha256 = browser.text("dl.facts code.wrap");
    try (PDDocument pdf = Loader.loadPDF(download("a[href$='certificate.pdf']"))) {
      assertThat(new PDFTextStripper().getText(pdf))
          .contains(number, sha256.substring(0, 40), shop.shop.serial(1), "packed by position");
    }
    try (XSSFWorkbook book =
        new XSSFWorkbook(new ByteArrayInputStream(download("a[href$='certificate.xlsx']")))) {
      assertThat(book.getSheetAt(0).getRow(0).getCell(0).toString())
          .isEqualTo("Certificate of match");
    }
    assertThat(sha256(download("a[href$='certificate.json']"))).isEqualTo(sha256);

    browser.submit("a[href*='/check']");
    assertThat(browser.text("section[aria-labelledby=check]"))
        .contains("have the hash that stands on the certificate", "say the same");
    browser.go("/release?number=" + number);
    assertThat(browser.text("main tbody tr")).contains(number, "in force");
  }

  @Test
  void aDoubleClickReleasesOnce() {
    browser.go("/release/sets/" + shop.setId);
    browser.type("password", RunningService.PASSWORD);
    new Actions(browser.driver).doubleClick(browser.find(SIGN)).perform();
    browser.await(WITHDRAW);
    assertThat(shop.standing().get("releases").size()).isEqualTo(1);
  }

  /** Pages opened before the release still show their forms; what they send is refused. */
  @Test
  void whatWasOpenedBeforeIsRefusedAfterwards() {
    String serial = shop.shop.serial(1);
    String first = browser.driver.getWindowHandle();
    browser.go("/bench?serial=" + serial + "&benchId=" + shop.shop.benchId);
    String bench = first;
    String decision = tab("/review/dispositions/new?kind=REPLACE&serial=" + serial);
    String set = tab("/sets/" + shop.setId);
    String signing = tab("/release/sets/" + shop.setId);
    sign();

    browser.driver.switchTo().window(bench);
    browser.type("phaseDeg", "12.5");
    browser.type("temperatureC", "23");
    browser.submit("#reading button[type=submit]");
    assertThat(browser.text("#said")).contains(LOCKED);
    assertThat(browser.text(".instruction .action")).isEqualTo("Released: locked");
    assertThat(browser.driver.findElements(By.id("reading"))).isEmpty();

    browser.find("details.void summary").click();
    browser.type("reason", "wrong part");
    browser.submit("details.void button");
    assertThat(browser.text("#said")).contains(LOCKED);

    browser.driver.switchTo().window(decision);
    browser.choose("reasonCode", "wrong part");
    browser.type("text", "another one was built in");
    browser.type("newSerial", serial + "-N");
    browser.type("password", RunningService.PASSWORD);
    browser.submit("form[action$='/review/dispositions'] button[type=submit]");
    assertThat(browser.text(".alert.bad")).contains(LOCKED);
    assertThat(browser.find("main textarea").getDomProperty("value"))
        .isEqualTo("another one was built in");

    browser.driver.switchTo().window(set);
    browser.type("reason", "to look at it");
    browser.submit("form[action$='/hold'] button");
    assertThat(browser.text(".alert.bad")).contains(LOCKED);

    for (String window : new String[] {decision, set, signing}) {
      browser.driver.switchTo().window(window).close();
    }
    browser.driver.switchTo().window(first);
    assertThat(shop.shop.state(shop.setId, serial)).isEqualTo("RELEASED");
  }

  @Test
  void withdrawnItIsOpenAgainAndTheCertificateStays() {
    browser.go("/release/sets/" + shop.setId);
    sign();
    String certificate = URI.create(browser.driver.getCurrentUrl()).getPath();
    browser.type("password", RunningService.PASSWORD);
    browser.submit(WITHDRAW);
    assertThat(browser.text(".field.bad .error")).as("a reason is asked for").isNotEmpty();
    browser.type("reason", "labels were mixed up");
    browser.type("password", "not the password");
    browser.submit(WITHDRAW);
    assertThat(browser.text(".field.bad .error")).contains("nothing was signed");
    assertThat(browser.find("[name=reason]").getDomProperty("value"))
        .isEqualTo("labels were mixed up");
    browser.type("password", RunningService.PASSWORD);
    browser.submit(WITHDRAW);

    assertThat(browser.text("h1")).contains("Withdrawn");
    assertThat(browser.text(".alert.bad")).contains("labels were mixed up");
    assertThat(browser.driver.findElements(By.cssSelector(WITHDRAW))).isEmpty();
    browser.go("/sets/" + shop.setId);
    assertThat(browser.text("h1")).contains("MATCHED");
    assertThat(shop.shop.tryMeasure(shop.shop.serial(1), 1000.1, 1.2).statusCode()).isEqualTo(201);

    browser.go("/release/sets/" + shop.setId);
    sign();
    String number = browser.text("h1").replaceAll("(?s)^Certificate of match (\\S+).*", "$1");
    browser.go(certificate);
    assertThat(browser.text(".alert.bad")).contains("Superseded by certificate " + number);
  }

  private static String tab(String path) {
    browser.driver.switchTo().newWindow(WindowType.TAB);
    browser.go(path);
    return browser.driver.getWindowHandle();
  }

  private static void sign() {
    browser.type("password", RunningService.PASSWORD);
    browser.submit(SIGN);
    browser.await(WITHDRAW);
  }

  /** What the link gives to the one who is signed in. */
  private static byte[] download(String link) {
    try {
      HttpResponse<byte[]> answer =
          HttpClient.newHttpClient()
              .send(
                  HttpRequest.newBuilder(
                          URI.create(service.url() + browser.find(link).getDomAttribute("href")))
                      .header("Cookie", browser.cookies())
                      .build(),
                  HttpResponse.BodyHandlers.ofByteArray());
      assertThat(answer.statusCode()).isEqualTo(200);
      return answer.body();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  private static String sha256(byte[] data) throws NoSuchAlgorithmException {
    return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(data));
  }
}
