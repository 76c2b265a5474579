package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.List;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;

/** Who gets which file under which name, and what is answered where there is none. */
@ExtendWith(RunningService.Extension.class)
class TravelerDownloadsTest {

  private final RunningService service;

  TravelerDownloadsTest(RunningService service) {
    this.service = service;
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/traveler/sets/999999.pdf",
        "/traveler/sets/999999.xlsx",
        "/traveler/assemblies/none.pdf",
        "/traveler/assemblies/none.xlsx",
        "/traveler/workorders/none.pdf",
        "/traveler/workorders/none/instructions.xlsx"
      })
  void unknownOnesAreNotFound(String path) {
    HttpResponse<String> api = service.api(Role.TECHNICIAN).get("/api/v1" + path);
    assertThat(api.statusCode()).isEqualTo(404);
    assertThat(ApiClient.json(api).get("detail").asString()).startsWith("There is no ");
    HttpResponse<String> page = service.pages(Role.TECHNICIAN).get(path);
    assertThat(page.statusCode()).isEqualTo(404);
    assertThat(page.body()).contains("There is no ");
    assertThat(service.api().get("/api/v1" + path).statusCode()).isEqualTo(401);
    assertThat(service.pages().get(path).statusCode()).isEqualTo(302);
  }

  @Test
  void aSetIsNamedByANumber() {
    HttpResponse<String> answer = service.api(Role.QA).get("/api/v1/traveler/sets/first.pdf");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("id", "first");
  }

  @ParameterizedTest
  @EnumSource(Role.class)
  void everyRoleReads(Role role) {
    TravelerShop shop = TravelerShop.trimming(service);
    String path = "/api/v1/traveler/assemblies/" + shop.serial(1) + ".xlsx";
    assertThat(service.api(role).download(path).statusCode()).isEqualTo(200);
  }

  @Test
  void filesAreNamedAfterWhatTheyShow() {
    TravelerShop shop = TravelerShop.trimming(service);
    String order = shop.order.replace(" & ", "-");
    assertThat(name("/traveler/sets/" + shop.setId + ".pdf"))
        .isEqualTo("traveler-" + order + "-set-A.pdf");
    assertThat(name("/traveler/assemblies/" + shop.serial(1) + ".pdf"))
        .isEqualTo("traveler-" + order + "-" + shop.serial(1) + ".pdf");
    assertThat(name("/traveler/workorders/" + shop.orderPath() + ".pdf"))
        .isEqualTo("travelers-" + order + ".pdf");
    assertThat(name("/traveler/workorders/" + shop.orderPath() + "/instructions.xlsx"))
        .isEqualTo("workbook-" + order + "-rev-A.xlsx");
  }

  @Test
  void openApiDescribesTheFiles() {
    JsonNode paths = ApiClient.json(service.api(Role.PLANNER).get("/api/v1/openapi")).get("paths");
    for (String path :
        List.of(
            "sets/{id}.pdf",
            "sets/{id}.xlsx",
            "assemblies/{serial}.pdf",
            "assemblies/{serial}.xlsx",
            "workorders/{number}.pdf",
            "workorders/{number}/instructions.xlsx")) {
      JsonNode ok = paths.at("/" + ("/api/v1/traveler/" + path).replace("/", "~1"));
      String type = path.endsWith("pdf") ? "application/pdf" : "spreadsheetml.sheet";
      assertThat(ok.at("/get/responses/200/content").toString()).contains(type, "binary");
    }
  }

  private String name(String path) {
    HttpResponse<byte[]> answer = service.pages(Role.PLANNER).download(path);
    assertThat(answer.statusCode()).isEqualTo(200);
    String disposition = answer.headers().firstValue("Content-Disposition").orElse("");
    assertThat(disposition).startsWith("attachment;");
    return disposition.replaceAll(".*filename\\*=UTF-8''([^;]+).*", "$1");
  }
}
